// A table of the record as it stands on paper too, in the reader's own units and clock.

import { formatValues } from '../../../../words/quantity.ts';
import type { RecordTable, RecordWords } from '../../../reports/evidence/place-tables.ts';
import { type DataColumn, DataTable } from '../../base/data-table.tsx';
import {
  formatAge,
  formatDay,
  formatDifference,
  formatInstant,
  formatNumber,
  formatTemperature,
  type Reader,
} from '../../base/format.ts';
import { formatMonth, localDay } from '../../base/local-days.ts';
import { t, word } from '../../base/messages.ts';
import { now, quantityFormat } from '../../live/lab-state.ts';

const SECONDS_PER_MINUTE = 60;

export const recordWords = (zoned: Reader): RecordWords => ({
  say: (key, values = {}) =>
    t(key, formatValues(values, { ...quantityFormat.value, timeZone: zoned.timeZone })),
  word,
  number: (value, digits) => formatNumber(value, digits, zoned),
  celsius: (value) => (value === null ? '–' : formatTemperature(value, zoned)),
  difference: (celsius) => formatDifference(celsius, zoned),
  minutes: (minutes) => (minutes === 0 ? '–' : formatAge(minutes * SECONDS_PER_MINUTE, zoned)),
  moment: (at) => formatInstant(at, now.peek(), zoned),
  day: (at) => formatDay(at, zoned),
  month: (at) => formatMonth(localDay(new Date(at).getTime(), zoned.timeZone).slice(0, 7), zoned),
});

export const Recorded = ({ table }: { readonly table: RecordTable }) => {
  const { first, columns, rows, note, more } = table;
  return (
    <>
      {first !== null && <p>{t(first)}</p>}
      {rows.length > 0 && (
        <DataTable
          rows={rows}
          keyOf={({ key }) => key}
          columns={Object.fromEntries(
            columns.map(({ heading, align }, index): [string, DataColumn<(typeof rows)[number]>] => {
              const textOf = ({ cells }: (typeof rows)[number]) => cells[index];
              return [heading, align === 'right' ? { figures: textOf } : textOf];
            }),
          )}
        />
      )}
      {note !== undefined && <p class="dim">{note}</p>}
      {more !== undefined && <p>{more}</p>}
    </>
  );
};
