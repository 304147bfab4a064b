// That nothing needs hands: of now only while the lab answers, else of when it last answered. Where alarms are
// acknowledged but not over, it says so and leads to them.

import { t } from '../../base/messages.ts';
import { line, openAlarms } from '../../live/lab-state.ts';
import { needsHands } from '../../base/face.ts';
import { Mark } from '../../base/marks.tsx';

export const AllWell = () => {
  const isOfNow = line.value !== 'down';
  const acknowledged = openAlarms.value.filter(needsHands).length;
  if (isOfNow && acknowledged > 0)
    return (
      <p class="all-well">
        <Mark name="notice" />
        <a href="/alarms">{t('alarms.none-new', { count: acknowledged })}</a>
      </p>
    );
  return (
    <p class="all-well">
      <Mark name={isOfNow ? 'steady' : 'no-data'} />
      {t(isOfNow ? 'alarms.none' : 'alarms.none-then')}
    </p>
  );
};
