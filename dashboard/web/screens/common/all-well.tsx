// That nothing needs hands: of now only while the lab answers, else of when it last answered.

import { t } from '../../base/messages.ts';
import { line } from '../../live/lab-state.ts';
import { Mark } from '../../base/marks.tsx';

export const AllWell = () => {
  const isOfNow = line.value !== 'down';
  return (
    <p class="all-well">
      <Mark name={isOfNow ? 'steady' : 'no-data'} />
      {t(isOfNow ? 'alarms.none' : 'alarms.none-then')}
    </p>
  );
};
