// The steps above any wax's own ceiling that are the same for all waxes: overheated, switch off, smoke, flame.
// They inform; a heater needs its own cut-out, and the maker's instructions and local codes come first.

import { isTemperature } from './reading-guard.ts';
import { failure, type Result, success } from './result.ts';
import type { Celsius } from './units.ts';
import { commonPractice, type WaxValue } from './classes/wax-value.ts';

const LADDER = 'alarm ladder of 120, 150 and 175 °C; usual, no source';

export const HEAT_RUNGS = ['overheated', 'switch-off', 'smoking', 'flash-point'] as const;
export type HeatRung = (typeof HEAT_RUNGS)[number];

/** From which temperature each step holds, °C. */
export const HEAT_LADDER: Readonly<Record<HeatRung, WaxValue>> = {
  overheated: commonPractice(120, LADDER),
  'switch-off': commonPractice(150, LADDER),
  /** Baseplate wax smoked freely near 177 °C (Smyd, J Prosthet Dent); two degrees are kept below it. */
  smoking: commonPractice(175, `${LADDER}; baseplate wax smoked freely near 177 °C, Smyd, J Prosthet Dent`),
  'flash-point': commonPractice(
    199,
    'lowest flash point quoted for paraffin, on reference pages without a source; the GESTIS substance database has 200 to 240 °C',
  ),
};

/** The highest step that has been reached; null below all of them. */
export const heatRung = (celsius: Celsius): HeatRung | null =>
  HEAT_RUNGS.findLast((rung) => celsius >= HEAT_LADDER[rung].value) ?? null;

/** `heatRung` for a plain number from outside. */
export const checkedHeatRung = (celsius: number): Result<HeatRung | null> =>
  isTemperature(celsius)
    ? success(heatRung(celsius as Celsius))
    : failure('not-a-temperature', 'The value must be a finite number above absolute zero, in °C.', celsius);
