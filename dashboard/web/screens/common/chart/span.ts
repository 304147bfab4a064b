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

/** Of the shown span that stays free before the beginning of an alarm. */
const LEAD_SHARE = 0.1;

/** The shortest span from a shift up that shows everything since `begun`, epoch milliseconds, and what led to it. */
export const spanSince = (begun: number, now: number): Span =>
  SPANS.slice(SPANS.indexOf('shift')).find((span) => now - begun <= SPAN_MILLIS[span] * (1 - LEAD_SHARE)) ??
  'year';

/** What the address names; `usual` where it names no span. */
export const viewOf = (query: URLSearchParams, usual: Span = 'shift'): View => {
  const span = query.get('span');
  const to = Date.parse(query.get('to') ?? '');
  return { span: isSpan(span) ? span : usual, to: Number.isFinite(to) ? to : null };
};

export const queryOf = (view: View): string =>
  `?span=${view.span}${view.to === null ? '' : `&to=${new Date(view.to).toISOString()}`}`;

/** Half a span back or forth; forward of the present means the present. */
export const moveView = (view: View, direction: -1 | 1, now: number): View => {
  const to = (view.to ?? now) + (direction * SPAN_MILLIS[view.span]) / 2;
  return { span: view.span, to: to >= now ? null : to };
};
