// Whether the figures of a wax class can all be true together. Run after a lab's own values are put in.

import { isWithin } from './reading-guard.ts';
import { type Problem, problem } from './result.ts';
import { ABSOLUTE_ZERO_CELSIUS } from './units.ts';
import type { WaxClass } from './classes/wax-properties.ts';
import type { WaxSpan, WaxValue } from './classes/wax-value.ts';

/** A value that lies outside what it may be. */
type Complaint = readonly [name: string, value: number, least: number, most: number] | null;

const within = (name: string, { value }: WaxValue, least: number, most: number): Complaint =>
  isWithin(value, least, most) ? null : [name, value, least, most];

/** No wax of the trade is shaped, melted or stored outside of these, °C. */
const COLDEST = -50;
const HOTTEST = 250;

const inOrder = (name: string, range: WaxSpan | undefined): Complaint =>
  range === undefined
    ? null
    : (within(`${name}.low`, range.low, COLDEST, HOTTEST) ??
      within(`${name}.high`, range.high, COLDEST, HOTTEST) ??
      within(`${name}.low`, range.low, COLDEST, range.high.value));

function* complaints(wax: WaxClass): Generator<Complaint> {
  yield inOrder('workingWindow', wax.workingWindow);
  yield inOrder('potWindow', wax.potWindow);
  yield inOrder('annealWindow', wax.annealWindow);
  yield inOrder('bathWindow', wax.bathWindow);
  yield inOrder('transition', wax.transition);
  yield inOrder('melting', wax.melting);
  yield within('ceiling', wax.ceiling, (wax.potWindow ?? wax.workingWindow).high.value, HOTTEST);
  yield within('storageMax', wax.storageMax, COLDEST, wax.melting.high.value);
  for (const [index, limit] of wax.flow.entries()) {
    if (limit.atLeast) yield within(`flow.${index}.atLeast`, limit.atLeast, 0, limit.atMost?.value ?? 100);
    if (limit.atMost) yield within(`flow.${index}.atMost`, limit.atMost, limit.atLeast?.value ?? 0, 100);
  }
  let previous = ABSOLUTE_ZERO_CELSIUS;
  for (const [index, piece] of wax.expansion.entries()) {
    yield within(`expansion.${index}.from`, piece.from, previous, HOTTEST);
    yield within(`expansion.${index}.coefficient`, piece.coefficient, 1e-6, 0.01);
    previous = piece.from.value;
  }
  yield within('measuredTo', wax.measuredTo, previous, HOTTEST);
  for (const [index, limit] of (wax.expansionLimits ?? []).entries()) {
    yield within(`expansionLimits.${index}.atMost`, limit.atMost, 0, 0.1);
  }
  yield within('solidificationShrinkage', wax.solidificationShrinkage, 0, 0.5);
  for (const phase of ['solid', 'liquid'] as const) {
    yield within(`conductivity.${phase}`, wax.conductivity[phase], 0.01, 5);
    yield within(`density.${phase}`, wax.density[phase], 300, 3000);
    yield within(`heatCapacity.${phase}`, wax.heatCapacity[phase], 500, 5000);
  }
  yield within('latentHeat', wax.latentHeat, 1e3, 1e6);
  yield within('kinetics.activationEnergy', wax.kinetics.activationEnergy, 1e3, 1e6);
  yield within('kinetics.reference', wax.kinetics.reference, COLDEST, HOTTEST);
  yield within('kinetics.evaporationEnthalpy', wax.kinetics.evaporationEnthalpy, 1e3, 1e6);
  yield within('doseAllowance', wax.doseAllowance, 0.1, 1e6);
  const { relaxation } = wax;
  yield within('relaxation.reference', relaxation.reference, COLDEST, HOTTEST);
  yield within('relaxation.tau', relaxation.tau, 1, 1e12);
  yield within('relaxation.beta', relaxation.beta, 0.05, 1);
  yield within('relaxation.activationEnergy', relaxation.activationEnergy, 1e3, 1e6);
  for (const [technique, value] of Object.entries(relaxation.frozenStrain)) {
    yield within(`relaxation.frozenStrain.${technique}`, value, 0, 0.1);
  }
  yield within('relaxation.spread.tauFactor', relaxation.spread.tauFactor, 1, 1000);
  yield within('relaxation.spread.beta', relaxation.spread.beta, 0, 0.5);
  yield within('relaxation.spread.frozenStrainShare', relaxation.spread.frozenStrainShare, 0, 1);
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
