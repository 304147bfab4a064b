// Every rule by its kind; the kinds are the keys of this table. Its order is the order in which rules are evaluated:
// first causes before what is hidden behind them.

import { chargeSpent } from './heat/charge-spent.ts';
import { cleaningDue } from './heat/cleaning-due.ts';
import { fireRisk } from './heat/fire-risk.ts';
import { heaterWeak } from './heat/heater-weak.ts';
import { headingOver } from './heat/heading-over.ts';
import { heatDoseHalf } from './heat/heat-dose-half.ts';
import { heatDoseHigh } from './heat/heat-dose-high.ts';
import { leftOn } from './heat/left-on.ts';
import { lowPot } from './heat/low-pot.ts';
import { noHeat } from './heat/no-heat.ts';
import { notReady } from './heat/not-ready.ts';
import { outsideWindow } from './heat/outside-window.ts';
import { overCeiling } from './heat/over-ceiling.ts';
import { runaway } from './heat/runaway.ts';
import { soakIncomplete } from './heat/soak-incomplete.ts';
import { soakReady } from './heat/soak-ready.ts';
import { thermostatDrift } from './heat/thermostat-drift.ts';
import { unevenAnnealer } from './heat/uneven-annealer.ts';
import { bathDrift } from './heat/bath-drift.ts';
import { wrongBath } from './heat/wrong-bath.ts';
import { burnoutHold } from './furnace/burnout-hold.ts';
import { burnoutHot } from './furnace/burnout-hot.ts';
import { burnoutRamp } from './furnace/burnout-ramp.ts';
import { doorOpen } from './storage/door-open.ts';
import { nightSwing } from './storage/night-swing.ts';
import { patternDue } from './storage/pattern-due.ts';
import { patternWarm } from './storage/pattern-warm.ts';
import { patternWeekend } from './storage/pattern-weekend.ts';
import { storageRate } from './storage/storage-rate.ts';
import { storageSwing } from './storage/storage-swing.ts';
import { storageCold } from './storage/storage-cold.ts';
import { storageHeading } from './storage/storage-heading.ts';
import { storageWarm } from './storage/storage-warm.ts';
import { calibrationDue } from './measuring/calibration-due.ts';
import { gatewayClock } from './measuring/gateway-clock.ts';
import { gatewayLost } from './measuring/gateway-lost.ts';
import { probeDisagrees } from './measuring/probe-disagrees.ts';
import { probeDrift } from './measuring/probe-drift.ts';
import { probeLoose } from './measuring/probe-loose.ts';
import { probeOut } from './measuring/probe-out.ts';
import { probeJump } from './measuring/probe-jump.ts';
import { probeNoisy } from './measuring/probe-noisy.ts';
import { probeSilent } from './measuring/probe-silent.ts';
import { probeStuck } from './measuring/probe-stuck.ts';
import { channelFailing } from './self/channel-failing.ts';
import { diskFailing } from './self/disk-failing.ts';
import { nobodySubscribed } from './self/nobody-subscribed.ts';
import { storeFailing } from './self/store-failing.ts';
import type { Rule } from '../rule/rule.ts';

/** A rule under another name than its own does not compile. */
const table = <T extends { readonly [Kind in keyof T]: Rule & { readonly kind: Kind } }>(
  rules: T,
): Readonly<T> => Object.freeze(rules);

const TABLE = table({
  'probe-out': probeOut,
  'fire-risk': fireRisk,
  'over-ceiling': overCeiling,
  'heading-over': headingOver,
  runaway: runaway,
  'left-on': leftOn,
  'wrong-bath': wrongBath,
  'bath-drift': bathDrift,
  'probe-drift': probeDrift,
  'no-heat': noHeat,
  'heater-weak': heaterWeak,
  'not-ready': notReady,
  'outside-window': outsideWindow,
  'low-pot': lowPot,
  'thermostat-drift': thermostatDrift,
  'uneven-annealer': unevenAnnealer,
  'soak-incomplete': soakIncomplete,
  'soak-ready': soakReady,
  'charge-spent': chargeSpent,
  'heat-dose-high': heatDoseHigh,
  'heat-dose-half': heatDoseHalf,
  'cleaning-due': cleaningDue,
  'burnout-hot': burnoutHot,
  'burnout-ramp': burnoutRamp,
  'burnout-hold': burnoutHold,
  'storage-warm': storageWarm,
  'storage-cold': storageCold,
  'storage-heading': storageHeading,
  'door-open': doorOpen,
  'storage-swing': storageSwing,
  'storage-rate': storageRate,
  'night-swing': nightSwing,
  'pattern-warm': patternWarm,
  'pattern-weekend': patternWeekend,
  'pattern-due': patternDue,
  'gateway-lost': gatewayLost,
  'probe-silent': probeSilent,
  'probe-loose': probeLoose,
  'probe-stuck': probeStuck,
  'probe-noisy': probeNoisy,
  'probe-jump': probeJump,
  'probe-disagrees': probeDisagrees,
  'calibration-due': calibrationDue,
  'gateway-clock': gatewayClock,
  'store-failing': storeFailing,
  'disk-failing': diskFailing,
  'nobody-subscribed': nobodySubscribed,
  'channel-failing': channelFailing,
});

export type RuleKind = keyof typeof TABLE;

/** What hides a rule of the table is a rule of the table too. */
export type KnownRule = Rule<RuleKind>;

export const RULES: Readonly<Record<RuleKind, KnownRule>> = TABLE;
export const ALL_RULES: readonly KnownRule[] = Object.values(RULES);
export const RULE_KINDS: readonly RuleKind[] = ALL_RULES.map(({ kind }) => kind);
