// The marks of the screens, drawn here. Two families: a priority is shown by how many corners stick out, from a
// ring to a star of four; a condition is shown by a small lane with its window rails and the reading as a block.

import type { Priority } from '../../../alerts/watch/rule/priority.ts';
import type { StationCondition } from '../../../alerts/watch/engine/station-status.ts';
import type { Verdict } from '../../api/night.ts';

export type MarkName = Priority | StationCondition | Verdict | 'overdue' | 'shelved' | 'out-of-service';

/** Outlines on a 24 by 24 field, filled by the even-odd rule. */
const OUTLINES: Readonly<Record<MarkName, string>> = {
  urgent: 'M12 0l3.6 8.4L24 12l-8.4 3.6L12 24l-3.6-8.4L0 12l8.4-3.6z',
  high: 'M12 1.5L23.5 22H.5z',
  medium: 'M0 12C6 2.7 18 2.7 24 12 18 21.3 6 21.3 0 12z',
  low: 'M12 0c2 5 7 8.500 7 14.500A7 7.500 0 0 1 5 14.500C5 8.500 10 5 12 0z',
  notice: 'M12 3a9 9 0 1 1 0 18 9 9 0 0 1 0-18zM12 7a5 5 0 1 0 0 10 5 5 0 0 0 0-10z',
  'no-data':
    'M1 1h8v3H4v5H1zM15 1h8v8h-3V4h-5zM1 15h3v5h5v3H1zM20 15h3v8h-8v-3h5zM10.500 14h3v2.500h-3zM10.500 18h3v-1.500h-3zM8 9.500C8 7 9.700 5.500 12 5.500s4 1.500 4 3.700c0 2.600-2.500 2.700-2.500 4.800h-3c0-3.500 2.500-3.300 2.500-4.700 0-.8-.4-1.200-1-1.200s-1 .4-1 1.400z',
  cold: `M3 4h18v2H3zM3 11h18v2H3zM7 17h10v6H7zM9 19v2h6v-2z`,
  warming: 'M3 3h18v2H3zM3 9h18v2H3zM12 12l8 7h-4.500v4h-7v-4H4z',
  'below-window': 'M3 3h18v2H3zM3 10h18v2H3zM7 16h10v6H7z',
  'in-window': 'M3 4h18v2H3zM3 18h18v2H3zM6 9h12v6H6z',
  'above-window': 'M3 12h18v2H3zM3 19h18v2H3zM7 2h10v6H7z',
  'heading-over': 'M1 1h22v4H1zM12 7l9 8h-5v8H8v-8H3z',
  'over-ceiling': 'M1 13h22v4H1zM6 2h12v8H6zM3 20h18v2H3z',
  'fire-risk':
    'M1 17h22v4H1zM12 0c1 4.500 6 6 6 10.500 0 3-2.500 4.500-6 4.500s-6-1.500-6-4.500C6 8 8 7.500 8.500 5c1.500.8 2 1.700 2.200 2.700C12 6 12.300 3 12 0z',
  'left-on': 'M15 1.500A11 11 0 1 0 23 16 9 9 0 0 1 15 1.500z',
  steady: 'M1 9.500h22v5H1z',
  unsteady: 'M1 15C4 5 8 5 12 12s6 7 8 0l3 1.500C20 22 15 23 10.500 14.500 7.500 8.500 6 9 4 16z',
  'too-warm': `M1 16h22v3H1zM12 2l8 7h-4.500v4h-7V9H4z`,
  measured: 'M10.500 1h3v14.500a4.500 4.500 0 1 1-3 0zM15 3h6v2h-6zM15 8h4v2h-4z',
  'may-be-invested': 'M3 11l6 6L21 4l2.500 2.500L9 22 .5 13.500z',
  check: 'M12 0l12 12-12 12L0 12zM12 4.500L4.500 12l7.500 7.500 7.500-7.500z',
  overdue: 'M3 1h18v4l-6.500 7 6.500 7v4H3v-4l6.500-7L3 5zM6.500 4l5.500 6 5.500-6z',
  remake: 'M4 1l8 8 8-8 3 3-8 8 8 8-3 3-8-8-8 8-3-3 8-8-8-8z',
  shelved: 'M2 2h20v20H2zM4.500 4.500v15h15v-15zM7 7h4v10H7zM13 7h4v10h-4z',
  'out-of-service':
    'M12 1a11 11 0 1 1 0 22 11 11 0 0 1 0-22zM12 4a8 8 0 1 0 0 16 8 8 0 0 0 0-16zM7 10.500h10v3H7z',
};

export const isMark = (name: string): name is MarkName => Object.hasOwn(OUTLINES, name);

/** Decorative: the word that belongs to it always is beside it. */
export const Mark = ({ name }: { readonly name: MarkName }) => (
  <svg class="mark" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
    <path fill-rule="evenodd" d={OUTLINES[name]} />
  </svg>
);
