// The spans that a station's chart can show, and moving through time by them. Pure.

export const SPANS = ['hour', 'shift', 'day', 'week', 'month', 'year'] as const;
export type Span = (typeof SPANS)[number];

const HOUR_MILLIS = 3_600_000;

export const SPAN_MILLIS: Readonly<Record<Span, number>> = {
  hour: HOUR_MILLIS,
  shift: 8 * HOUR_MILLIS,
  day: 24 * HOUR_MILLIS,
  week: 7 * 24 * HOUR_MILLIS,
  month: 31 * 24 * HOUR_MILLIS,
  year: 366 * 24 * HOUR_MILLIS,
};

const isSpan = (text: string | null): text is Span => SPANS.some((span) => span === text);

export interface View {
  readonly span: Span;
  /** Epoch milliseconds; null follows the present. */
  readonly to: number | null;
}

export const viewOf = (query: URLSearchParams): View => {
  const span = query.get('span');
  const to = Date.parse(query.get('to') ?? '');
  return { span: isSpan(span) ? span : 'shift', to: Number.isFinite(to) ? to : null };
};

export const queryOf = (view: View): string =>
  `?span=${view.span}${view.to === null ? '' : `&to=${new Date(view.to).toISOString()}`}`;

/** Half a span back or forth; forward of the present means the present. */
export const moved = (view: View, direction: -1 | 1, now: number): View => {
  const to = (view.to ?? now) + (direction * SPAN_MILLIS[view.span]) / 2;
  return { span: view.span, to: to >= now ? null : to };
};

const STEPS_MINUTES = [5, 10, 15, 30, 60, 120, 180, 360, 720, 1440, 2880, 7200, 14_400, 43_200, 86_400];
const MOST_TICKS = 9;
const MINUTE_MILLIS = 60_000;

export const tickStep = (spanMillis: number): number =>
  (STEPS_MINUTES.find((minutes) => spanMillis / (minutes * MINUTE_MILLIS) <= MOST_TICKS) ?? 86_400) *
  MINUTE_MILLIS;

/** What the lab's clocks are ahead of UTC at an instant. */
const zoneOffset = (at: number, timeZone: string): number => {
  const parts = new Intl.DateTimeFormat('en', {
    timeZone,
    hourCycle: 'h23',
    year: 'numeric',
    month: 'numeric',
    day: 'numeric',
    hour: 'numeric',
    minute: 'numeric',
  }).formatToParts(at);
  const of = (type: string): number => Number(parts.find((part) => part.type === type)?.value ?? 0);
  const local = Date.UTC(of('year'), of('month') - 1, of('day'), of('hour'), of('minute'));
  return local - Math.floor(at / MINUTE_MILLIS) * MINUTE_MILLIS;
};

/** Instants for the axis, on whole units of the lab's clock, also across a change of it. */
export const axisTicks = (from: number, to: number, timeZone: string): readonly number[] => {
  const step = tickStep(to - from);
  const local = from + zoneOffset(from, timeZone);
  const first = Math.ceil(local / step) * step;
  return Array.from({ length: MOST_TICKS + 2 }, (_, index) => {
    const wallClock = first + index * step;
    return wallClock - zoneOffset(wallClock - zoneOffset(from, timeZone), timeZone);
  }).filter((at) => at >= from && at <= to);
};
