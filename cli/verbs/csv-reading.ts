// One row of another logger's CSV as a reading, by the names of its columns. Pure but for the look at a file's first
// line, which shows what separates its columns.

import { createReadStream } from 'node:fs';
import { createInterface } from 'node:readline';
import { Temporal } from 'temporal-polyfill';
import { isoMillis } from '../../collector/decode/iso-instant.ts';
import type { Reading } from '../../lab/reading.ts';
import { ABSOLUTE_ZERO_CELSIUS, celsius, type EpochMillis, epochMillis } from '../../wax/units.ts';

export type CsvRow = Readonly<Record<string, string | undefined>>;

export interface CsvColumns {
  readonly time: string;
  readonly value: string;
  /** One probe for all rows, or a column that names it. */
  readonly probe: string | null;
  readonly probeColumn: string | null;
  readonly unit: 'celsius' | 'fahrenheit' | 'kelvin';
  readonly timeFormat: 'iso' | 'epoch-seconds' | 'epoch-milliseconds' | 'day-first' | 'month-first';
  /** IANA time zone of clock times that carry no offset. */
  readonly zone: string;
}

export type CsvReading =
  | {
      readonly ok: true;
      readonly reading: Reading;
      /** Of a clock time that a clock change repeats: the second of its two instants; `reading` has the first. */
      readonly secondAt?: EpochMillis;
    }
  | { readonly ok: false; readonly reason: string };

export const PROBE_ID = /^(?!\.{1,2}$)[A-Za-z0-9._-]{1,64}$/;
/** Decimal, with a point or a comma; `Number` alone would take hexadecimal digits too. */
const DECIMAL = /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[+-]?\d+)?$/i;
const IN_CELSIUS = {
  celsius: (value: number): number => value,
  // Rounded to a ten thousandth, so that 194 °F is 90 °C and not a little less.
  fahrenheit: (value: number): number => Math.round(((value - 32) / 1.8) * 1e4) / 1e4,
  kelvin: (value: number): number => Math.round((value + ABSOLUTE_ZERO_CELSIUS) * 1e4) / 1e4,
} as const satisfies Record<CsvColumns['unit'], (value: number) => number>;

/**
 * The reading of a row, or why there is none.
 * @example csvReading({ when: '04.05.2031 07:00', temp: '88,5' }, columns) // 88.5 °C, with day-first and a zone
 */
export function csvReading(row: CsvRow, columns: CsvColumns): CsvReading {
  const fault = (reason: string): CsvReading => ({ ok: false, reason });
  const field = (name: string): string => row[name]?.trim() ?? '';
  for (const name of [
    columns.time,
    columns.value,
    ...(columns.probeColumn === null ? [] : [columns.probeColumn]),
  ])
    if (field(name) === '') return fault(`the column ${name} is empty or missing`);
  const probe = columns.probe ?? field(columns.probeColumn ?? '');
  if (!PROBE_ID.test(probe)) return fault(`"${probe}" is no id of a probe`);
  const number = Number(field(columns.value).replace(',', '.'));
  if (!DECIMAL.test(field(columns.value)) || !Number.isFinite(number))
    return fault(`"${field(columns.value)}" is no number`);
  const degrees = IN_CELSIUS[columns.unit](number);
  if (degrees < ABSOLUTE_ZERO_CELSIUS) return fault(`${degrees} °C is below absolute zero`);
  const instants = instantsOf(field(columns.time), columns);
  const [at, secondAt] = instants ?? [];
  if (instants === null)
    return fault(`"${field(columns.time)}" is no instant in the form ${columns.timeFormat}`);
  if (at === undefined)
    return fault(`${field(columns.time)} does not exist in ${columns.zone}: clocks are set forward past it`);
  if (at < 0 || at >= Date.UTC(2100, 0, 1))
    return fault(`${field(columns.time)} is before 1970 or after 2099`);
  const reading: Reading = { probe, at: epochMillis(at), celsius: celsius(degrees), quality: 'good' };
  return { ok: true, reading, ...(secondAt !== undefined && { secondAt: epochMillis(secondAt) }) };
}

const CLOCK =
  /^(\d{1,4})[./-](\d{1,2})[./-](\d{1,4})[ T,]+(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,3})\d*)?)?(?: ?([AP])\.?M\.?)?$/i;

/** Of the day; NaN where the clock of twelve hours has no such hour. */
function hourOf(hour: number, half: string | undefined): number {
  if (half === undefined) return hour;
  const isOnClock = hour >= 1 && hour <= 12;
  return isOnClock ? (hour % 12) + (half.toUpperCase() === 'P' ? 12 : 0) : Number.NaN;
}

/** No instant for a clock time that a clock change skips, two for one that it repeats; null when the text is no time. */
function instantsOf(text: string, { timeFormat, zone }: CsvColumns): readonly number[] | null {
  if (timeFormat === 'epoch-seconds' || timeFormat === 'epoch-milliseconds') {
    const number = Number(text.replace(',', '.'));
    return DECIMAL.test(text) && Number.isFinite(number)
      ? [Math.round(number * (timeFormat === 'epoch-seconds' ? 1000 : 1))]
      : null;
  }
  const clock = CLOCK.exec(text);
  if (clock === null) {
    if (timeFormat !== 'iso' || !/(Z|[+-]\d{2}:?\d{2})$/i.test(text)) return null;
    const at = isoMillis(text);
    return Number.isNaN(at) ? null : [Math.round(at)];
  }
  const [, start, middle, end, hour, minute, second = '0', milli = '0', half] = clock;
  const [year, month, day] = {
    iso: [start, middle, end],
    'day-first': [end, middle, start],
    'month-first': [end, start, middle],
  }[timeFormat];
  try {
    const clockTime = Temporal.PlainDateTime.from(
      {
        year: Number(year),
        month: Number(month),
        day: Number(day),
        hour: hourOf(Number(hour), half),
        minute: Number(minute),
        second: Number(second),
        millisecond: Number(milli.padEnd(3, '0')),
      },
      { overflow: 'reject' },
    );
    const earlier = clockTime.toZonedDateTime(zone, { disambiguation: 'earlier' });
    if (!earlier.toPlainDateTime().equals(clockTime)) return [];
    const later = clockTime.toZonedDateTime(zone, { disambiguation: 'later' });
    return earlier.equals(later)
      ? [earlier.epochMilliseconds]
      : [earlier.epochMilliseconds, later.epochMilliseconds];
  } catch {
    return null;
  }
}

/** The most frequent separator in the first line: a semicolon, a tab or a comma. */
export async function csvDelimiter(file: string): Promise<string> {
  const lines = createInterface({ input: createReadStream(file) });
  for await (const line of lines) {
    lines.close();
    const counted = [';', '\t', ','].map((mark) => [line.split(mark).length, mark] as const);
    return counted.sort(([first], [second]) => second - first)[0]?.[1] ?? ',';
  }
  return ',';
}
