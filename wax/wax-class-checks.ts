// Whether the figures of a wax class can all be true together. Run after a lab's own values are put in.

import { isWithin } from './reading-guard.ts';
import { type Problem, problem } from './result.ts';
import { ABSOLUTE_ZERO_CELSIUS } from './units.ts';
import type { WaxClass } from './classes/wax-properties.ts';
import type { WaxSpan, WaxValue } from './classes/wax-value.ts';

/** A value that lies outside what it may be. */
type Complaint = readonly [name: string, value: number, least: number, most: number] | null;

const checkWithin = (name: string, { value }: WaxValue, least: number, most: number): Complaint =>
  isWithin(value, least, most) ? null : [name, value, least, most];

/** No wax of the trade is shaped, melted or stored outside of these, °C. */
const COLDEST = -50;
const HOTTEST = 250;

const inOrder = (name: string, range: WaxSpan | undefined): Complaint =>
  range === undefined
    ? null
    : (checkWithin(`${name}.low`, range.low, COLDEST, HOTTEST) ??
      checkWithin(`${name}.high`, range.high, COLDEST, HOTTEST) ??
      checkWithin(`${name}.low`, range.low, COLDEST, range.high.value));

function* complaints(wax: WaxClass): Generator<Complaint> {
  yield inOrder('workingWindow', wax.workingWindow);
  yield inOrder('potWindow', wax.potWindow);
  yield inOrder('annealWindow', wax.annealWindow);
  yield inOrder('bathWindow', wax.bathWindow);
  yield inOrder('transition', wax.transition);
  yield inOrder('melting', wax.melting);
  yield checkWithin('ceiling', wax.ceiling, (wax.potWindow ?? wax.workingWindow).high.value, HOTTEST);
  yield checkWithin('storageMax', wax.storageMax, COLDEST, wax.melting.high.value);
  for (const [index, limit] of wax.flow.entries()) {
    if (limit.atLeast)
      yield checkWithin(`flow.${index}.atLeast`, limit.atLeast, 0, limit.atMost?.value ?? 100);
    if (limit.atMost) yield checkWithin(`flow.${index}.atMost`, limit.atMost, limit.atLeast?.value ?? 0, 100);
  }
  let previous = ABSOLUTE_ZERO_CELSIUS;
  for (const [index, piece] of wax.expansion.entries()) {
    yield checkWithin(`expansion.${index}.from`, piece.from, previous, HOTTEST);
    yield checkWithin(`expansion.${index}.coefficient`, piece.coefficient, 1e-6, 0.01);
    previous = piece.from.value;
  }
  yield checkWithin('measuredTo', wax.measuredTo, previous, HOTTEST);
  for (const [index, limit] of (wax.expansionLimits ?? []).entries()) {
    yield checkWithin(`expansionLimits.${index}.atMost`, limit.atMost, 0, 0.1);
  }
  yield checkWithin('solidificationShrinkage', wax.solidificationShrinkage, 0, 0.5);
  for (const phase of ['solid', 'liquid'] as const) {
    yield checkWithin(`conductivity.${phase}`, wax.conductivity[phase], 0.01, 5);
    yield checkWithin(`density.${phase}`, wax.density[phase], 300, 3000);
    yield checkWithin(`heatCapacity.${phase}`, wax.heatCapacity[phase], 500, 5000);
  }
  yield checkWithin('latentHeat', wax.latentHeat, 1e3, 1e6);
  yield checkWithin('kinetics.activationEnergy', wax.kinetics.activationEnergy, 1e3, 1e6);
  yield checkWithin('kinetics.reference', wax.kinetics.reference, COLDEST, HOTTEST);
  yield checkWithin('kinetics.evaporationEnthalpy', wax.kinetics.evaporationEnthalpy, 1e3, 1e6);
  yield checkWithin('doseAllowance', wax.doseAllowance, 0.1, 1e6);
  const { relaxation } = wax;
  yield checkWithin('relaxation.reference', relaxation.reference, COLDEST, HOTTEST);
  yield checkWithin('relaxation.tau', relaxation.tau, 1, 1e12);
  yield checkWithin('relaxation.beta', relaxation.beta, 0.05, 1);
  yield checkWithin('relaxation.activationEnergy', relaxation.activationEnergy, 1e3, 1e6);
  for (const [technique, value] of Object.entries(relaxation.frozenStrain)) {
    yield checkWithin(`relaxation.frozenStrain.${technique}`, value, 0, 0.1);
  }
  yield checkWithin('relaxation.spread.tauFactor', relaxation.spread.tauFactor, 1, 1000);
  yield checkWithin('relaxation.spread.beta', relaxation.spread.beta, 0, 0.5);
  yield checkWithin('relaxation.spread.frozenStrainShare', relaxation.spread.frozenStrainShare, 0, 1);
}

/** The first figure that is impossible or contradicts another, or null. */
export const checkWaxClass = (wax: WaxClass): Problem | null => {
  for (const complaint of complaints(wax)) {
    if (complaint === null) continue;
    const [name, value, least, most] = complaint;
    const values = { wax: wax.id, name, least: String(least), most: String(most) };
    return problem('wax-value-refused', values, value, name);
  }
  return null;
};
