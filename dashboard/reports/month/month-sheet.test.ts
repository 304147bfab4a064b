// What remakes of a month cost, by the values that held when each was made, and until when its figures are.

import { describe, expect, it } from 'vitest';
import { alarmQuality } from '../../../alerts/watch/quality/alarm-quality.ts';
import type { Pattern } from '../../../lab/pattern.ts';
import type { PatternCare } from '../../../lab/pattern-care.ts';
import { potLab } from '../../../tests/rehearsal.ts';
import { epochMillis } from '../../../wax/units.ts';
import { type MonthInputs, monthSheet } from './month-sheet.ts';

const at = (text: string) => epochMillis(Date.parse(text));
const remade = (id: string, when: string): Pattern => ({
  id,
  caseReference: id,
  wax: 'inlay-type-2',
  technique: 'layered',
  stays: [],
  length_millimetres: 20,
  tolerance_micrometres: 90,
  madeAt: when,
  madeBy: 'Mara',
  fate: { kind: 'remade', at: when, by: 'Mara', reason: 'margin open' },
});
const { site } = potLab();
const span = { from: at('2031-03-01T00:00:00Z'), to: at('2031-03-20T08:00:00Z') };
const sheetOf = (careAt: MonthInputs['careAt'], ended: readonly Pattern[]) =>
  monthSheet({
    month: '2031-03',
    lab: 'Lab',
    timeZone: 'UTC',
    now: span.to,
    asOf: span.to,
    ended,
    careAt,
    to: at('2031-04-01T00:00:00Z'),
    places: [],
    heaters: [],
    nights: [],
    placeName: (id) => id,
    quality: alarmQuality({ ...span, site, changes: [], open: [] }),
  });
const RAISED = at('2031-03-10T00:00:00Z');
const careAt = (instant: number): PatternCare => ({
  remake_price: instant < RAISED ? 60 : 90,
  remake_minutes: 45,
});

describe('the sheet of a month', () => {
  it('counts each remake at the price that held when it was remade', () => {
    const ended = [remade('A', '2031-03-03T09:00:00Z'), remade('B', '2031-03-12T09:00:00Z')];
    expect(sheetOf(careAt, ended).remakeCost).toEqual({ price: 150, minutes: 90 });
  });
  it('has no cost where the lab has set none, nor of a month without remakes', () => {
    expect(sheetOf(() => undefined, [remade('A', '2031-03-03T09:00:00Z')]).remakeCost).toEqual({
      price: null,
      minutes: null,
    });
    expect(sheetOf(careAt, []).remakeCost).toEqual({ price: null, minutes: null });
  });
  it('shows of a month that lasts until when its figures are', () => {
    expect(sheetOf(careAt, [])).toMatchObject({ isOver: false, asOf: '2031-03-20T08:00:00.000Z' });
  });
});
