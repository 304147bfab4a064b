// The state of the lab when no alarm is listed above: that there is nothing to do is shown only with live data from every
// station and nothing open; of now only while the lab answers, else of when it last answered.

import { t } from '../../../base/messages.ts';
import { standing } from '../../../live/lab-state.ts';
import { standingSentences } from '../../../live/standing-text.ts';
import { Mark } from '../../../base/marks.tsx';

export const StandingNote = () => {
  const { kind } = standing.value;
  if (kind === 'in-order')
    return (
      <p class="all-well">
        <Mark name="steady" />
        {t('alarms.none')}
      </p>
    );
  const sentences = standingSentences(standing.value);
  return (
    <p class="all-well" data-standing={kind}>
      <Mark name={kind === 'lost' || kind === 'without-data' ? 'no-data' : 'notice'} />
      {kind === 'lost' && sentences.length === 0 ? (
        t('alarms.none-then')
      ) : (
        <a href={kind === 'without-data' ? '/probes' : '/alarms'}>{sentences.join(' · ')}</a>
      )}
    </p>
  );
};
