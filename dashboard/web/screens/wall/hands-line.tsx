// The line at the foot of the wall: the one thing that needs hands first, in words; or that nothing does.
// A dead connection outranks everything, because then nothing else on the screen is current.

import { computed } from '@preact/signals';
import type { AlarmView } from '../../../api/schemas.ts';
import { formatTime } from '../../base/format.ts';
import { shortRuleName, t } from '../../base/messages.ts';
import { lastReceivedAt, line, now, openAlarms, reader } from '../../live/lab-state.ts';
import { byUrgency, markOf, needsHands, toneOf } from '../../base/face.ts';
import { Mark } from '../../base/marks.tsx';
import { nameOfPattern } from '../common/patterns-due.ts';
import { nextPattern } from '../common/next-pattern.ts';
import { SoundControls } from './sound-controls.tsx';

/** The clock is also the way out, for whoever stands at the screen with a keyboard or a finger. */
const Clock = () => (
  <a class="clock" href="/">
    {formatTime(now.value, reader.value)}
    <span class="unseen">{t('nav.lab')}</span>
  </a>
);

/** Words in sizes of the line's type that fit beside the sound and the clock. */
const WORDS_THAT_FIT = 58;
const shrunk = (text: string) => ({
  '--shrink': `${Math.max(0.6, Math.min(1, WORDS_THAT_FIT / text.length))}`,
});

const Lost = () => (
  <p class="hands-words" role="alert">
    <Mark name="no-data" />
    <span>
      <strong>{t('line.lost')}</strong>
      <small>
        {lastReceivedAt.value === null
          ? t('line.never')
          : t('line.old-values', { at: formatTime(lastReceivedAt.value, reader.value, true) })}
      </small>
    </span>
  </p>
);

const NOBODY = 'nobody-subscribed';
/** No phone and no mailbox receives alarms: the wall is the only notification. */
const isUnnotified = computed(() =>
  openAlarms.value.some((alarm) => alarm.rule === NOBODY && needsHands(alarm) && alarm.active),
);

const First = ({ alarm, others }: { readonly alarm: AlarmView; readonly others: number }) => {
  const rule = shortRuleName(alarm.rule);
  const place = alarm.stationName ?? (alarm.subject === 'site' ? null : alarm.subject);
  const what = place === null ? rule : `${place}: ${rule}`;
  const isAlone = isUnnotified.value && !alarm.acknowledged && alarm.rule !== NOBODY;
  const rest = isAlone ? others - 1 : others;
  const more = rest > 0 ? ` ${t('wall.and-others', { count: rest })}` : '';
  const title = `${what}${isAlone ? ` – ${shortRuleName(NOBODY)}` : ''}${more}`;
  const text = alarm.acknowledged
    ? t('alarm.acknowledged-by', { by: alarm.acknowledgedBy ?? '–' })
    : alarm.subjectKind === 'pattern'
      ? alarm.message
      : alarm.action;
  return (
    <p class="hands-words">
      <Mark name={markOf(alarm.priority)} />
      <span>
        <strong style={shrunk(title)}>{title}</strong>
        <small style={shrunk(text)}>{text}</small>
      </span>
    </p>
  );
};

const Calm = () => {
  const pattern = nextPattern.value;
  return (
    <p class="hands-words">
      <Mark name="steady" />
      <span>
        <strong>{t('wall.all-in-order')}</strong>
        {pattern && (
          <small>
            {`${nameOfPattern(pattern)}. ${pattern.verdict?.text ?? ''} ${pattern.verdict?.due ?? ''}`}
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
