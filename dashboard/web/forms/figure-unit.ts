// A figure of a rule between what is kept and what its reader sees: temperatures, differences of temperature and
// rates are shown and typed in the reader's unit and kept in degrees Celsius; all else stays as it is. Pure.

import type { ParameterUnit } from '../../../alerts/watch/rule/parameter.ts';
import { differenceInUnit, inUnit, type Reader } from '../base/format.ts';

type Unit = Reader['unit'];
type Kind = 'temperature' | 'difference' | 'plain';

const KINDS: Readonly<Record<ParameterUnit, Kind>> = {
  celsius: 'temperature',
  // Nothing is added to a difference: 5 °C more are 9 °F more.
  celsius_difference: 'difference',
  celsius_per_hour: 'difference',
  seconds: 'plain',
  minutes: 'plain',
  hours: 'plain',
  days: 'plain',
  share: 'plain',
  count: 'plain',
  micrometres: 'plain',
  millimetres: 'plain',
};

const SHOWN_STEPS = 100;
/** Finer than what is shown, so that what was typed in Fahrenheit is what is shown again. */
const KEPT_STEPS = 10_000;
// Adding 0 makes 0 of -0, which nobody types.
const roundShown = (value: number, steps: number): number => Math.round(value * steps) / steps + 0;

export const celsiusShown = (celsius: number, unit: Unit): number =>
  roundShown(inUnit(celsius, unit), SHOWN_STEPS);
export const celsiusTyped = (typed: number, unit: Unit): number =>
  unit === 'celsius' ? typed : roundShown((typed - 32) / 1.8, KEPT_STEPS);

const isKnown = (unit: string): unit is ParameterUnit => Object.hasOwn(KINDS, unit);
const kindOf = (unit: string): Kind => (isKnown(unit) ? KINDS[unit] : 'plain');

export const figureShown = (value: number, figureUnit: string, unit: Unit): number => {
  const kind = kindOf(figureUnit);
  if (kind === 'temperature') return celsiusShown(value, unit);
  return kind === 'difference' ? roundShown(differenceInUnit(value, unit), SHOWN_STEPS) : value;
};

export const figureTyped = (typed: number, figureUnit: string, unit: Unit): number => {
  const kind = kindOf(figureUnit);
  if (kind === 'temperature') return celsiusTyped(typed, unit);
  return kind === 'difference' && unit === 'fahrenheit' ? roundShown(typed / 1.8, KEPT_STEPS) : typed;
};
