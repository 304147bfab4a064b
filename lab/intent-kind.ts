// Which intents there are.

export const INTENT_KINDS = [
  'off-today',
  'preheat-at',
  'staying-late-until',
  'leave-on-overnight',
  'topping-up',
  'cleaning',
  'probe-out',
] as const;
export type IntentKind = (typeof INTENT_KINDS)[number];

/** For these a person gives the time; the others end by themselves after what is usual. */
const TIMED: readonly IntentKind[] = ['preheat-at', 'staying-late-until'];
export const needsTime = (kind: IntentKind): boolean => TIMED.includes(kind);
