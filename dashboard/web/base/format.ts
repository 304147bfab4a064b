// Numbers and instants as people read them. Pure: locale, unit, hour cycle and zone come in, text comes out.

export interface Reader {
  /** BCP 47, e.g. `en-GB`. */
  readonly locale: string;
  readonly unit: 'celsius' | 'fahrenheit';
  readonly hourCycle: 'h12' | 'h23';
  readonly timeZone: string;
}

// To make one of these takes longer than to use it, and a wall uses dozens each second.
const numbers = new Map<string, Intl.NumberFormat>();
const numberFormat = (locale: string, options: Intl.NumberFormatOptions): Intl.NumberFormat => {
  const key = locale + JSON.stringify(options);
  const made = numbers.get(key) ?? new Intl.NumberFormat(locale, options);
  numbers.set(key, made);
  return made;
};
const clocks = new Map<string, Intl.DateTimeFormat>();

const number = (locale: string, digits: number): Intl.NumberFormat =>
  numberFormat(locale, { minimumFractionDigits: digits, maximumFractionDigits: digits, useGrouping: false });

/** A minus sign proper, and never "-0". */
export const formatNumber = (value: number, digits: number, reader: Pick<Reader, 'locale'>): string => {
  const text = number(reader.locale, digits).format(value);
  return /[1-9]/.test(text) ? text.replace('-', '−') : text.replace('-', '');
};

const toSuperscript = (sign: string): string => '⁻⁰¹²³⁴⁵⁶⁷⁸⁹'['-0123456789'.indexOf(sign)] ?? sign;

/** As many figures as count; very small and very large ones with their power of ten. */
export const formatSignificant = (value: number, reader: Pick<Reader, 'locale'>, figures = 4): string => {
  const size = Math.abs(value);
  const isPlain = value === 0 || (size >= 0.001 && size < 1e6);
  return numberFormat(reader.locale, {
    maximumSignificantDigits: figures,
    useGrouping: false,
    notation: isPlain ? 'standard' : 'scientific',
  })
    .format(value)
    .replace(/E(-?\d+)$/, (_, power: string) => `\u00a0·\u00a010${power.replace(/./g, toSuperscript)}`)
    .replace('-', '−');
};

export const inUnit = (celsius: number, unit: Reader['unit']): number =>
  unit === 'celsius' ? celsius : celsius * 1.8 + 32;

/** A difference has no offset: 5 °C warmer is 9 °F warmer. */
export const differenceInUnit = (celsius: number, unit: Reader['unit']): number =>
  unit === 'celsius' ? celsius : celsius * 1.8;

export const unitMark = (unit: Reader['unit']): string => (unit === 'celsius' ? '°C' : '°F');

/** One decimal; the digits alone, as the wall shows them. */
export const formatDegrees = (celsius: number, reader: Reader, digits = 1): string =>
  formatNumber(inUnit(celsius, reader.unit), digits, reader);

/** Limits: a decimal only where there is one; whole degrees Fahrenheit, which are fine enough for a limit. */
export const formatLimit = (celsius: number, reader: Reader): string => {
  const value = Math.round(inUnit(celsius, reader.unit) * 10) / 10;
  const digits = Number.isInteger(value) || reader.unit === 'fahrenheit' ? 0 : 1;
  return formatNumber(value, digits, reader);
};

export const formatTemperature = (celsius: number, reader: Reader, digits = 1): string =>
  `${formatDegrees(celsius, reader, digits)} ${unitMark(reader.unit)}`;

export const formatDifference = (celsius: number, reader: Reader, digits = 1): string =>
  `${formatNumber(differenceInUnit(celsius, reader.unit), digits, reader)} ${unitMark(reader.unit)}`;

const UNITS = [
  ['day', 86_400, 'd'],
  ['hour', 3600, 'h'],
  ['minute', 60, 'min'],
  ['second', 1, 's'],
] as const;

/** The largest unit that fits at least twice, else the next smaller one: 90 s, 12 min, 30 h, 3 days. */
const ageParts = (seconds: number) => {
  const whole = Math.max(0, Math.floor(seconds));
  const [unit, length, symbol] = UNITS.find(([, size]) => whole >= 2 * size) ?? UNITS[3];
  return { amount: Math.floor(whole / length), unit, symbol };
};

/** With the symbols that every other duration has; only days are a word. */
export const formatAge = (seconds: number, reader: Pick<Reader, 'locale'>): string => {
  const { amount, unit, symbol } = ageParts(seconds);
  return unit === 'day'
    ? numberFormat(reader.locale, { style: 'unit', unit, unitDisplay: 'long' }).format(amount)
    : `${amount} ${symbol}`;
};

/** How long ago it was: now, 12 min ago, vor 3 Tagen. */
export const formatAgo = (seconds: number, { locale }: Pick<Reader, 'locale'>): string => {
  const { amount, unit } = ageParts(seconds);
  return new Intl.RelativeTimeFormat(locale, { style: 'short', numeric: 'auto' }).format(-amount, unit);
};

/** With the SI symbols, which are short in every language. */
export const formatAgeShort = (seconds: number): string => {
  const { amount, symbol } = ageParts(seconds);
  return `${amount} ${symbol}`;
};

export const formatPercent = (share: number, reader: Pick<Reader, 'locale'>): string =>
  numberFormat(reader.locale, { style: 'percent', maximumFractionDigits: 0 }).format(share);

const clock = (reader: Reader, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat => {
  const whole = { hourCycle: reader.hourCycle, timeZone: reader.timeZone, ...options };
  const key = reader.locale + JSON.stringify(whole);
  const made = clocks.get(key) ?? new Intl.DateTimeFormat(reader.locale, whole);
  clocks.set(key, made);
  return made;
};

/** Instants are epoch milliseconds or ISO 8601 text. */
export const formatTime = (at: number | string, reader: Reader, withSeconds = false): string =>
  clock(reader, {
    hour: reader.hourCycle === 'h12' ? 'numeric' : '2-digit',
    minute: '2-digit',
    ...(withSeconds ? { second: '2-digit' } : {}),
  }).format(new Date(at));

export const formatDay = (at: number | string, reader: Reader): string =>
  clock(reader, { weekday: 'short', day: 'numeric', month: 'short' }).format(new Date(at));

/** A day of a calendar, `YYYY-MM-DD`, with its year; no time zone moves it. */
export const formatDate = (day: string, reader: Reader): string =>
  clock({ ...reader, timeZone: 'UTC' }, { day: 'numeric', month: 'short', year: 'numeric' }).format(
    new Date(day),
  );

const isSameDay = (at: number | string, now: number, reader: Reader): boolean =>
  formatDay(at, reader) === formatDay(now, reader) && Math.abs(now - new Date(at).getTime()) < 86_400_000;

/** The time alone when it is the same day in the lab, else with its day. */
export const formatInstant = (at: number | string, now: number, reader: Reader): string =>
  isSameDay(at, now, reader) ? formatTime(at, reader) : `${formatDay(at, reader)}, ${formatTime(at, reader)}`;

/**
 * How all the instants that are shown together are written, so that they can be compared: each with its day unless every one
 * of them is of today.
 */
export const instantFormat = (
  together: readonly (number | string)[],
  now: number,
  reader: Reader,
): ((at: number | string) => string) =>
  together.every((at) => isSameDay(at, now, reader))
    ? (at) => formatTime(at, reader)
    : (at) => `${formatDay(at, reader)}, ${formatTime(at, reader)}`;
