// The foot of the wall: the state of the lab, what has no tile, the next pattern, whether the wall can sound, the time.
// A dead connection outranks everything, because then nothing else on the screen is current.

import { markOf } from '../../base/face.ts';
import { formatTime } from '../../base/format.ts';
import { Mark, type MarkName } from '../../base/marks.tsx';
import { t } from '../../base/messages.ts';
import type { LabStanding } from '../../base/lab-standing.ts';
import { now, reader, standing } from '../../live/lab-state.ts';
import { SoundControls } from './sound-controls.tsx';
import type { WallFoot } from './wall-foot.ts';

/** The clock is also the way out, for whoever stands at the screen with a keyboard or a finger. */
const Clock = () => (
  <a class="clock" href="/">
    {formatTime(now.value, reader.value)}
    <span class="unseen">{t('nav.lab')}</span>
  </a>
);

const MARKS: Readonly<Record<LabStanding['kind'], MarkName>> = {
  lost: 'no-data',
  'no-stations': 'no-data',
  alarms: 'urgent',
  'without-data': 'no-data',
  'part-failing': 'check',
  acknowledged: 'notice',
  past: 'check',
  shelved: 'shelved',
  'in-order': 'steady',
};

interface HandsProps {
  readonly foot: WallFoot;
  /** Priority of the worst unacknowledged alarm. */
  readonly worst: string | null;
}

export const HandsLine = ({ foot, worst }: HandsProps) => {
  const { kind } = standing.value;
  return (
    <footer class="hands" data-standing={kind} data-stacked={foot.isStacked}>
      <div class="hands-words" role={kind === 'lost' ? 'alert' : undefined}>
        <p class="hands-first">
          <Mark name={kind === 'alarms' && worst !== null ? markOf(worst) : MARKS[kind]} />
          <strong>{foot.first}</strong>
        </p>
        {(foot.isDemonstration || foot.second !== '') && (
          <p class="hands-second">
            {foot.isDemonstration && <span class="demonstration">{t('wall.demonstration')}</span>}
            <span>{foot.second}</span>
          </p>
        )}
      </div>
      <div class="hands-controls">
        <SoundControls />
        <Clock />
      </div>
    </footer>
  );
};
