// The marks of what became of a line: an open ring waits, an arrow is on its way, a tick has arrived, a cross was
// refused, a ring cut through ran out of time, a bar was taken back. Grey but where hands are needed.

import type { OutboxState } from '../../../../../alerts/notices/outbox/outbox-row.ts';
import { word } from '../../../base/messages.ts';

interface Look {
  readonly outline: string;
  readonly tone: 'urgent' | 'high' | 'calm';
}

/** Outlines on a 24 by 24 field, filled by the even-odd rule. */
const LOOKS: Readonly<Record<OutboxState, Look>> = {
  waiting: {
    outline: 'M12 2a10 10 0 1 1 0 20 10 10 0 0 1 0-20zM12 5a7 7 0 1 0 0 14 7 7 0 0 0 0-14z',
    tone: 'calm',
  },
  sending: { outline: 'M1 10h13V4l9 8-9 8v-6H1z', tone: 'calm' },
  delivered: { outline: 'M3 11l6 6L21 4l2.500 2.500L9 22 .5 13.500z', tone: 'calm' },
  failed: { outline: 'M4 1l8 8 8-8 3 3-8 8 8 8-3 3-8-8-8 8-3-3 8-8-8-8z', tone: 'urgent' },
  expired: {
    outline: 'M10 2.200v6.800H7v3h3v9.800A10 10 0 0 1 10 2.200zM14 2.200a10 10 0 0 1 0 19.600V12h3V9h-3z',
    tone: 'high',
  },
  withdrawn: { outline: 'M2 9.500h20v5H2z', tone: 'calm' },
};

interface StateMarkProps {
  readonly state: OutboxState;
  /** Without a tone: there is none of them. */
  readonly isCalm?: boolean;
}

export const StateMark = ({ state, isCalm = false }: StateMarkProps) => (
  <span class="outbox-state" data-tone={isCalm ? 'calm' : LOOKS[state].tone}>
    <svg class="mark" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      <path fill-rule="evenodd" d={LOOKS[state].outline} />
    </svg>
    {word('outbox-state', state)}
  </span>
);
