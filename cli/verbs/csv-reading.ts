// One row of another logger's CSV as a reading, by the names of its columns. Pure but for the look at a file's first
// line, which shows what separates its columns.

import { createReadStream } from 'node:fs';
import { createInterface } from 'node:readline';
import { Temporal } from 'temporal-polyfill';
import type { Reading } from '../../lab/reading.ts';
import { ABSOLUTE_ZERO_CELSIUS, celsius, epochMillis } from '../../wax/units.ts';

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
  | { readonly ok: true; readonly reading: Reading }
  | { readonly ok: false; readonly reason: string };

const PROBE_ID = /^[A-Za-z0-9._-]{1,64}$/;
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
  if (!Number.isFinite(number)) return fault(`"${field(columns.value)}" is no number`);
  const degrees = IN_CELSIUS[columns.unit](number);
  if (degrees < ABSOLUTE_ZERO_CELSIUS) return fault(`${degrees} °C is below absolute zero`);
  const at = instantOf(field(columns.time), columns);
  if (at === null) return fault(`"${field(columns.time)}" is no instant in the form ${columns.timeFormat}`);
  if (at < 0 || at >= Date.UTC(2100, 0, 1))
    return fault(`${field(columns.time)} is before 1970 or after 2099`);
  return { ok: true, reading: { probe, at: epochMillis(at), celsius: celsius(degrees), quality: 'good' } };
}

const CLOCK =
  /^(\d{1,4})[./-](\d{1,2})[./-](\d{1,4})[ T,]+(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,3})\d*)?)?$/;

function instantOf(text: string, { timeFormat, zone }: CsvColumns): number | null {
  if (timeFormat === 'epoch-seconds' || timeFormat === 'epoch-milliseconds') {
    const number = Number(text.replace(',', '.'));
    return Number.isFinite(number) ? Math.round(number * (timeFormat === 'epoch-seconds' ? 1000 : 1)) : null;
  }
  const clock = CLOCK.exec(text);
  if (clock === null) {
    if (timeFormat !== 'iso' || !/(Z|[+-]\d{2}:?\d{2})$/.test(text)) return null;
    const at = Date.parse(text.replace(' ', 'T'));
    return Number.isNaN(at) ? null : at;
  }
  const [, start, middle, end, hour, minute, second = '0', milli = '0'] = clock;
  const [year, month, day] = {
    iso: [start, middle, end],
    'day-first': [end, middle, start],
    'month-first': [end, start, middle],
  }[timeFormat];
  try {
    // In the hour that a clock change repeats, the first of the two.
    return Temporal.PlainDateTime.from(
      {
        year: Number(year),
        month: Number(month),
        day: Number(day),
        hour: Number(hour),
        minute: Number(minute),
        second: Number(second),
        millisecond: Number(milli.padEnd(3, '0')),
      },
      { overflow: 'reject' },
    ).toZonedDateTime(zone).epochMilliseconds;
  } catch {
    return null;
  }
}

/** What is oftenest between the names of the first line: a semicolon, a tab or a comma. */
export async function csvDelimiter(file: string): Promise<string> {
  const lines = createInterface({ input: createReadStream(file) });
  for await (const line of lines) {
    lines.close();
    const counted = [';', '\t', ','].map((mark) => [line.split(mark).length, mark] as const);
    return counted.sort(([first], [second]) => second - first)[0]?.[1] ?? ',';
  }
  return ',';
}
