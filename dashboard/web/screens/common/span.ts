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
