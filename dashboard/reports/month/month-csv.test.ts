import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import type { CsvSeparators } from '../../api/csv-separators.ts';
import type { HeaterMonth, MonthSheet } from '../../api/month.ts';
import { monthCsv } from './month-csv.ts';

const POT: HeaterMonth = {
  station: 'pot',
  name: 'Dip pot',
  closedMinutes: 600,
  unseenMinutes: 60,
  onMinutes: 282,
  kilowattHours: 0.24,
  doseHours: 4.3,
  sparedDoseHours: 105.6,
};
const sheetOf = (heaters: readonly HeaterMonth[]): MonthSheet => ({
  month: '2031-03',
  lab: 'Lab',
  timeZone: 'UTC',
  isOver: false,
  asOf: '2031-03-20T08:00:00.000Z',
  hoursKnown: true,
  places: [],
  heaters: [...heaters],
  remakeCost: { price: null, minutes: null },
  remakes: [
    {
      id: 'K7Q2',
      caseReference: 'Case 41',
      stationName: 'Shelf',
      at: '2031-03-03T09:00:00Z',
      by: 'Mara',
      reason: '=margin open',
    },
  ],
  alarms: { announced: 0, isBasis: false, figures: [], most: [] },
});
const rowsOf = (heaters: readonly HeaterMonth[], separators: CsvSeparators = 'comma') =>
  parse<Record<string, string>>(monthCsv(sheetOf(heaters), separators), {
    columns: true,
    bom: true,
    delimiter: separators === 'comma' ? ',' : ';',
  });

describe('the table of a month', () => {
  it('has what each heater did while the lab was closed, in hours and kilowatt hours', () => {
    expect(rowsOf([POT])[0]).toMatchObject({
      what: 'heater',
      place: 'pot',
      name: 'Dip pot',
      closed_hours: '10',
      on_hours: '4.7',
      not_measured_hours: '1',
      energy_kilowatt_hours: '0.24',
      dose_equivalent_hours: '4.3',
      avoided_dose_equivalent_hours: '105.6',
    });
  });

  it('leaves a figure empty that is not known, and all of them for a heater that was never measured', () => {
    const [unpowered, unseen] = rowsOf([
      { ...POT, kilowattHours: null },
      { ...POT, unseenMinutes: 600, onMinutes: 0 },
    ]);
    expect(unpowered).toMatchObject({ on_hours: '4.7', energy_kilowatt_hours: '' });
    expect(unseen).toMatchObject({ on_hours: '', energy_kilowatt_hours: '', dose_equivalent_hours: '' });
  });

  it('writes decimals in the separators that were chosen, and starts no formula', () => {
    const rows = rowsOf([POT], 'semicolon');
    expect(rows[0]?.on_hours).toBe('4,7');
    expect(rows[1]).toMatchObject({ what: 'remake', name: 'K7Q2', by: 'Mara', reason: "'=margin open" });
  });
});
