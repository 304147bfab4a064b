// Which intents make sense at a kind of station, in the order of their buttons. Pure.

import type { IntentKind } from '../../../../../lab/intent-kind.ts';
import { heats, holdsMeltedWax, type StationKind } from '../../../../../lab/station-kinds.ts';

const OF_POTS: readonly IntentKind[] = ['topping-up', 'cleaning'];
const OF_HEATERS: readonly IntentKind[] = [
  'staying-late-until',
  'off-today',
  'preheat-at',
  'leave-on-overnight',
];

export const offeredIntents = (kind: StationKind): readonly IntentKind[] => [
  ...(holdsMeltedWax(kind) ? OF_POTS : []),
  'probe-out',
  ...(heats(kind) ? OF_HEATERS : []),
];
