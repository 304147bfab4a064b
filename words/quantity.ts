// A value as its reader sees it: the ending of its name defines what it is (`value_celsius`, `since_at`). Pure; shared
// by the server and the screens. Values are kept in degrees Celsius and epoch milliseconds and converted here only.

/** What a message is filled in with: numbers by their unit's ending, codes, names. */
export type Values = Readonly<Record<string, number | string>>;

/** How a person reads. */
export interface ReaderSettings {
  /** The name of a folder of words, e.g. `de`. */
  readonly language: string;
  readonly temperatureUnit: 'celsius' | 'fahrenheit';
  readonly hourCycle: 'h12' | 'h23';
}

/** For machines and for those of whom nothing is known. */
export const PLAIN_ENGLISH: ReaderSettings = { language: 'en', temperatureUnit: 'celsius', hourCycle: 'h23' };

export interface QuantityFormat extends Omit<ReaderSettings, 'language'> {
  /** IANA time zone of the lab. */
  readonly timeZone: string;
  /** BCP 47, e.g. `en-GB`. */
  readonly locale: string;
}

// To make a format takes longer than to use it.
const formats = new Map<string, Intl.NumberFormat | Intl.DateTimeFormat>();
const takeCached = <T extends Intl.NumberFormat | Intl.DateTimeFormat>(key: string, make: () => T): T => {
  const format = (formats.get(key) as T | undefined) ?? make();
  formats.set(key, format);
  return format;
};

/** Always with so many decimals, no thousands separator, a minus sign proper and never "-0". */
export const formatDecimal = (value: number, digits: number, locale: string): string => {
  const format = takeCached(
    `${locale} ${digits}`,
    () =>
      new Intl.NumberFormat(locale, {
        minimumFractionDigits: digits,
        maximumFractionDigits: digits,
        useGrouping: false,
      }),
  );
  const text = format.format(value);
  return /[1-9]/.test(text) ? text.replace('-', '−') : text.replace('-', '');
};

/** Under two hours in minutes, above in hours and, where there are any, minutes. */
const formatMinutes = (minutes: number): string => {
  const whole = Math.round(minutes);
  if (Math.abs(whole) < 120) return `${whole} min`;
  const hours = `${Math.trunc(whole / 60)} h`;
  return whole % 60 === 0 ? hours : `${hours} ${Math.abs(whole % 60)} min`;
};

const formatInstant = (at: number | string, { locale, hourCycle, timeZone }: QuantityFormat): string => {
  const instant = new Date(at);
  if (Number.isNaN(instant.getTime())) return String(at);
  return takeCached(
    `${locale} ${hourCycle} ${timeZone}`,
    () =>
      new Intl.DateTimeFormat(locale, {
        weekday: 'short',
        day: 'numeric',
        month: 'short',
        hour: '2-digit',
        minute: '2-digit',
        hourCycle,
        timeZone,
      }),
  ).format(instant);
};

type Quantity = (value: number, format: QuantityFormat) => string;

const degrees = ({ temperatureUnit }: QuantityFormat): string =>
  temperatureUnit === 'fahrenheit' ? '°F' : '°C';
/** A difference has no offset: 5 °C warmer is 9 °F warmer. */
const difference: Quantity = (celsius, format) =>
  `${formatDecimal(format.temperatureUnit === 'fahrenheit' ? celsius * 1.8 : celsius, 1, format.locale)} ${degrees(format)}`;
const withUnit =
  (digits: number, unit: string): Quantity =>
  (value, { locale }) =>
    `${formatDecimal(value, digits, locale)} ${unit}`;

/** Longer endings come before the shorter ones that they end in. */
const QUANTITIES: readonly (readonly [ending: string, Quantity])[] = [
  ['_celsius_difference', difference],
  ['_celsius_per_hour', (value, format) => `${difference(value, format)}/h`],
  [
    '_celsius',
    (celsius, format) =>
      `${formatDecimal(format.temperatureUnit === 'fahrenheit' ? celsius * 1.8 + 32 : celsius, 1, format.locale)} ${degrees(format)}`,
  ],
  ['_seconds', withUnit(0, 's')],
  ['_minutes', formatMinutes],
  ['_hours', withUnit(1, 'h')],
  ['_micrometres', withUnit(0, 'µm')],
  ['_millimetres', withUnit(1, 'mm')],
  ['_gigabytes', withUnit(1, 'GB')],
  ['_percent', withUnit(1, '%')],
  ['_volts', withUnit(2, 'V')],
  [
    '_share',
    (share, { locale }) =>
      takeCached(
        `${locale} %`,
        () => new Intl.NumberFormat(locale, { style: 'percent', maximumFractionDigits: 0 }),
      ).format(share),
  ],
];

/**
 * One value for its reader. A name without a known ending leaves text and whole numbers as they are, so that a
 * message can choose its plural by them; other numbers are rounded to whole ones.
 * @example formatQuantity('swing_celsius_difference', 5, { ...format, temperatureUnit: 'fahrenheit' }) // '9.0 °F'
 */
export const formatQuantity = (
  name: string,
  value: number | string,
  format: QuantityFormat,
): number | string => {
  if (name.endsWith('_at')) return formatInstant(value, format);
  if (typeof value === 'string') return value;
  const quantity = QUANTITIES.find(([ending]) => name.endsWith(ending))?.[1];
  return quantity === undefined ? Math.round(value) : quantity(value, format);
};

export const formatValues = (values: Values, format: QuantityFormat): Values =>
  Object.fromEntries(
    Object.entries(values).map(([name, value]) => [name, formatQuantity(name, value, format)]),
  );
