// Days as `YYYY-MM-DD`: the day of an instant in the lab's zone, and the next day. Pure.

const DAY_MILLIS = 86_400_000;

export const localDay = (at: number, timeZone: string): string => {
  const parts = new Intl.DateTimeFormat('en', {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  }).formatToParts(at);
  const of = (type: string): string => parts.find((part) => part.type === type)?.value ?? '';
  return `${of('year')}-${of('month')}-${of('day')}`;
};

export const dayAfter = (day: string): string =>
  new Date(Date.parse(`${day}T00:00:00Z`) + DAY_MILLIS).toISOString().slice(0, 10);

/** `YYYY-MM`, by so many months. */
export const monthMoved = (month: string, by: number): string => {
  const [year = 0, number = 1] = month.split('-').map(Number);
  return new Date(Date.UTC(year, number - 1 + by, 1)).toISOString().slice(0, 7);
};

/** `2026-11` as people write it. */
export const formatMonth = (month: string, { locale }: { readonly locale: string }): string =>
  new Intl.DateTimeFormat(locale, { month: 'long', year: 'numeric', timeZone: 'UTC' }).format(
    new Date(`${month}-01T00:00:00Z`),
  );
