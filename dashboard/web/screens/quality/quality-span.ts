// Which spans alarm quality is shown over: the last day, and thirty days at a time, which is what the targets need.

export const SPANS = ['day', 'thirty-days', 'thirty-before'] as const;
export type QualitySpanChoice = (typeof SPANS)[number];

const DAY_MILLIS = 86_400_000;
/** Days from now back to the end and to the start. */
const DAYS: Readonly<Record<QualitySpanChoice, readonly [end: number, start: number]>> = {
  day: [0, 1],
  'thirty-days': [0, 30],
  'thirty-before': [30, 60],
};

export const qualitySpan = (asked: string | null): QualitySpanChoice =>
  SPANS.find((span) => span === asked) ?? 'day';

export const spanAsked = (
  span: QualitySpanChoice,
  now: number,
): { readonly from: number; readonly to: number } => {
  const [end, start] = DAYS[span];
  return { from: now - start * DAY_MILLIS, to: now - end * DAY_MILLIS };
};
