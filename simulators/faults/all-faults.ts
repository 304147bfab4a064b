// Every fault by its id.

import { elementWeak, heaterDead, powerCutLong, powerCutShort } from './element-faults.ts';
import type { InjectedFault } from './injection.ts';
import {
  clockAhead,
  clockBehind,
  gatewaySilent,
  probeAir,
  probeDrift,
  probeLoose,
  probeStuck,
  probeSwap,
} from './measuring-faults.ts';
import { chargeCooked, forgottenOvernight, forgottenWeekend, runningLow } from './people-faults.ts';
import { acSwing, doorAjar, heatingOff, sunShelf, windowFrost } from './place-faults.ts';
import { annealerUneven, bathDrift, loadEarly } from './softener-faults.ts';
import { relayChatter, setTooHigh, stuckOn } from './thermostat-faults.ts';

export const FAULTS = {
  stuck_on: stuckOn,
  set_too_high: setTooHigh,
  relay_chatter: relayChatter,
  heater_dead: heaterDead,
  element_weak: elementWeak,
  running_low: runningLow,
  forgotten_overnight: forgottenOvernight,
  forgotten_weekend: forgottenWeekend,
  charge_cooked: chargeCooked,
  annealer_uneven: annealerUneven,
  load_early: loadEarly,
  bath_drift: bathDrift,
  window_frost: windowFrost,
  heating_off: heatingOff,
  sun_shelf: sunShelf,
  door_ajar: doorAjar,
  ac_swing: acSwing,
  power_cut_short: powerCutShort,
  power_cut_long: powerCutLong,
  probe_stuck: probeStuck,
  probe_air: probeAir,
  probe_drift: probeDrift,
  probe_loose: probeLoose,
  probe_swap: probeSwap,
  gateway_silent: gatewaySilent,
  clock_ahead: clockAhead,
  clock_behind: clockBehind,
} as const satisfies Readonly<Record<string, InjectedFault>>;

export type FaultId = keyof typeof FAULTS;
export const FAULT_IDS = Object.keys(FAULTS) as readonly FaultId[];
