// The line at the foot of the wall: the one thing that needs hands first, in words; or that nothing does.
// A dead connection outranks everything, because then nothing else on the screen is known.

import type { AlarmView } from '../../api/schemas.ts';
import { formatInstant, formatTime } from '../frame/format.ts';
import { t, word } from '../frame/messages.ts';
import { lastHeardAt, line, now, openAlarms, reader } from '../live/lab-state.ts';
import { byUrgency, markOf, needsHands, toneOf } from '../look/face.ts';
import { Mark } from '../look/marks.tsx';
import { nextPattern } from './next-pattern.ts';
import { SoundControls } from './sound-controls.tsx';

const Clock = () => <span class="clock">{formatTime(now.value, reader.value)}</span>;

const Lost = () => (
  <p class="hands-words" role="alert">
    <Mark name="no-data" />
    <span>
      <strong>{t('line.lost')}</strong>
      <small>
        {lastHeardAt.value === null
          ? t('line.never')
          : t('line.old-values', { at: formatTime(lastHeardAt.value, reader.value, true) })}
      </small>
    </span>
  </p>
);

const First = ({ alarm, others }: { readonly alarm: AlarmView; readonly others: number }) => (
  <p class="hands-words">
    <Mark name={markOf(alarm.priority)} />
    <span>
      <strong>
        {alarm.stationName ?? alarm.subject}: {word('rule', alarm.rule)}
        {others > 0 && ` ${t('wall.and-others', { count: others })}`}
      </strong>
      <small>
        {alarm.acknowledged ? t('alarm.acknowledged-by', { by: alarm.acknowledgedBy ?? '–' }) : alarm.action}
      </small>
    </span>
  </p>
);

const Calm = () => {
  const pattern = nextPattern.value;
  return (
    <p class="hands-words">
      <Mark name="steady" />
      <span>
        <strong>{t('wall.all-in-order')}</strong>
        {pattern && (
          <small>
            {t('wall.next-pattern', {
              pattern: pattern.caseReference,
              at: formatInstant(pattern.investBy, now.value, reader.value),
            })}
          </small>
        )}
      </span>
    </p>
  );
};

export const HandsLine = () => {
  const waiting = openAlarms.value.filter(needsHands).sort(byUrgency);
  const first = waiting[0];
  const lost = line.value === 'down';
  return (
    <footer
      class="hands"
      data-tone={lost || !first ? 'calm' : toneOf(first.priority)}
      data-attention={
        lost ? 'lost' : first ? (first.acknowledged ? 'acknowledged' : 'unacknowledged') : 'calm'
      }
    >
      {lost ? <Lost /> : first ? <First alarm={first} others={waiting.length - 1} /> : <Calm />}
      <SoundControls />
      <Clock />
    </footer>
  );
};
