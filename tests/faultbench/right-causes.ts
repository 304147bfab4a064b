// Which rules are about what a fault is; docs/faultbench.md holds the same table. A fault that is seen by any other rule
// is seen, but its cause is not named.

import type { RuleKind } from './run-case.ts';

const CLIMBING: readonly RuleKind[] = ['heading-over', 'runaway', 'over-ceiling', 'fire-risk'];
const STORAGE: readonly RuleKind[] = [
  'storage-warm',
  'storage-cold',
  'storage-heading',
  'pattern-warm',
  'storage-rate',
  'storage-swing',
  'night-swing',
  'door-open',
];
const THAT_PROBE: readonly RuleKind[] = [
  'probe-stuck',
  'probe-noisy',
  'probe-jump',
  'probe-loose',
  'probe-out',
  'probe-drift',
  'probe-disagrees',
  'probe-silent',
];
const POWER: readonly RuleKind[] = ['gateway-lost', 'probe-silent', 'no-heat'];

export const RIGHT_CAUSES: Readonly<Record<string, readonly RuleKind[]>> = {
  stuck_on: CLIMBING,
  set_too_high: CLIMBING,
  relay_chatter: ['thermostat-drift'],
  heater_dead: ['no-heat', 'heater-weak', 'not-ready'],
  element_weak: ['heater-weak', 'no-heat', 'not-ready', 'thermostat-drift'],
  running_low: ['low-pot', 'probe-out', ...CLIMBING],
  forgotten_overnight: ['left-on'],
  forgotten_weekend: ['left-on'],
  charge_cooked: ['heat-dose-high', 'charge-spent'],
  annealer_uneven: ['uneven-annealer'],
  load_early: ['soak-incomplete'],
  bath_drift: ['bath-drift', 'wrong-bath', 'outside-window', 'thermostat-drift'],
  window_frost: STORAGE,
  heating_off: STORAGE,
  sun_shelf: STORAGE,
  door_ajar: STORAGE,
  ac_swing: STORAGE,
  power_cut_short: POWER,
  power_cut_long: POWER,
  probe_stuck: THAT_PROBE,
  probe_air: THAT_PROBE,
  probe_drift: THAT_PROBE,
  probe_loose: THAT_PROBE,
  probe_swap: THAT_PROBE,
  gateway_silent: ['gateway-lost', 'probe-silent'],
  clock_ahead: ['gateway-clock'],
  clock_behind: ['gateway-clock'],
};
