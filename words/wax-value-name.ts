// Names and units of the values of a wax class, from their dotted names; pieces of a list are counted from 1, and limits
// of flow are known by their test.
// Pure; shared by the screens of a lab and those of a group.

import type { MessageKey } from './message-key.ts';

const NAMES: Readonly<Record<string, MessageKey>> = {
  workingWindow: 'wax-value.working-window',
  potWindow: 'wax-value.pot-window',
  annealWindow: 'wax-value.anneal-window',
  bathWindow: 'wax-value.bath-window',
  ceiling: 'wax-value.ceiling',
  transition: 'wax-value.transition',
  melting: 'wax-value.melting',
  storageMax: 'wax-value.storage-max',
  flow: 'wax-value.flow',
  expansion: 'wax-value.expansion',
  expansionLimits: 'wax-value.expansion-limits',
  measuredTo: 'wax-value.measured-to',
  solidificationShrinkage: 'wax-value.solidification-shrinkage',
  conductivity: 'wax-value.conductivity',
  density: 'wax-value.density',
  heatCapacity: 'wax-value.heat-capacity',
  latentHeat: 'wax-value.latent-heat',
  kinetics: 'wax-value.kinetics',
  doseAllowance: 'wax-value.dose-allowance',
  relaxation: 'wax-value.relaxation',
};
const PARTS: Readonly<Record<string, MessageKey>> = {
  low: 'wax-value.low',
  high: 'wax-value.high',
  atMost: 'wax-value.at-most',
  atLeast: 'wax-value.at-least',
  solid: 'wax-value.solid',
  liquid: 'wax-value.liquid',
  from: 'wax-value.from',
  coefficient: 'wax-value.coefficient',
  reference: 'wax-value.reference',
  activationEnergy: 'wax-value.activation-energy',
  evaporationEnthalpy: 'wax-value.evaporation-enthalpy',
  tau: 'wax-value.tau',
  beta: 'wax-value.beta',
  frozenStrain: 'wax-value.frozen-strain',
  layered: 'wax-value.layered',
  dipped: 'wax-value.dipped',
  pressed: 'wax-value.pressed',
  sheet: 'wax-value.sheet',
  spread: 'wax-value.spread',
  tauFactor: 'wax-value.tau-factor',
  frozenStrainShare: 'wax-value.frozen-strain-share',
};
const TEMPERATURES =
  /^(workingWindow|potWindow|annealWindow|bathWindow|transition|melting)\.|^(ceiling|storageMax|measuredTo)$|\.(from|reference)$/;

/** Given and typed in °C here; the rest keeps its SI unit, which its name carries. */
export const isTemperature = (name: string): boolean => TEMPERATURES.test(name);

/** The test that a limit of flow belongs to, its temperature as the reader writes it. */
export interface WordedFlowTest {
  readonly test: 'flow' | 'penetration';
  readonly at: string;
}

const TESTS = { flow: 'wax-value.flow', penetration: 'wax-value.penetration' } as const;

/** `flowTest` names a limit of flow: "Flow, % · at 37.0 °C · at most"; other lists count their pieces. */
export const waxValueName = (
  name: string,
  say: (key: MessageKey) => string,
  flowTest?: WordedFlowTest,
): string =>
  name
    .split('.')
    .map((part, index) => {
      if (flowTest !== undefined && index === 0) return say(TESTS[flowTest.test]);
      const key = index === 0 ? NAMES[part] : PARTS[part];
      if (key !== undefined) return say(key);
      if (!/^\d+$/.test(part)) return part;
      return flowTest === undefined
        ? `${say('wax-value.piece')} ${Number(part) + 1}`
        : `${say('wax-value.flow-at')} ${flowTest.at}`;
    })
    .join(' · ');
