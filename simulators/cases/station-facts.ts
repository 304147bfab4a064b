// What a lab would hold of its stations: the plan without its secrets, in the words of the traces' format.

import type { StorageLimits } from '../harm/storage-harm.ts';
import type { HeaterHabits, WorldProbe, WorldStation, WorldPlan } from '../world/plan.ts';
import type { CaseProbe, CaseStation, CaseHours } from './case.ts';

const PATTERN_RANGE = [57, 67] as const;

const probeFacts = (probe: WorldProbe): CaseProbe => ({
  id: probe.id,
  where: probe.where,
  gateway: probe.gateway,
  resolution_kelvin: probe.resolutionKelvin,
  seconds: probe.seconds,
});

const workingHours = ({ hours }: WorldPlan): CaseHours => ({
  time_zone: hours.timeZone,
  days: hours.days,
  from: hours.from,
  to: hours.to,
  ...(hours.pauses.length > 0 ? { pauses: hours.pauses } : {}),
});

export const stationFacts = (
  world: WorldPlan,
  plan: WorldStation,
  limits: StorageLimits | undefined,
  chargeLimit: number | undefined,
): CaseStation => {
  const named = { id: plan.id, kind: plan.called, probes: plan.probes.map(probeFacts) };
  const hours = workingHours(world);
  const heats = ({ readyBy }: HeaterHabits) => ({ hours, ready_by: readyBy });
  switch (plan.kind) {
    case 'pot':
      return {
        ...named,
        ...heats(plan),
        wax: plan.wax,
        melting_range_celsius: [plan.melting.solidus, plan.melting.liquidus],
        set_celsius: plan.setCelsius,
        ceiling_celsius: plan.ceilingCelsius,
        control: plan.control,
        charge_since: new Date(world.starts).toISOString(),
        ...(chargeLimit === undefined ? {} : { charge_limit_equivalent_hours_at_70_celsius: chargeLimit }),
      };
    case 'annealer':
      return {
        ...named,
        ...heats(plan),
        wax: 'inlay wax sticks to be softened',
        set_celsius: plan.setCelsius,
        ceiling_celsius: plan.ceilingCelsius,
        window_celsius: plan.window,
        soak_minutes: plan.soakMinutes,
        uneven_limit_kelvin: plan.unevenKelvin,
        control: 'on-off',
      };
    case 'bath':
      return {
        ...named,
        ...heats(plan),
        wax: 'baseplate wax to be softened',
        set_celsius: plan.setCelsius,
        ceiling_celsius: plan.ceilingCelsius,
        window_celsius: plan.window,
        control: 'on-off',
      };
    case 'lamp':
      return {
        ...named,
        wax: 'baseplate wax to be softened',
        set_celsius: null,
        ceiling_celsius: plan.ceilingCelsius,
        hours,
        ready_by: null,
        control: 'by hand, minutes at a time',
      };
    default:
      return {
        ...named,
        wax: plan.hasPatterns ? 'finished wax patterns waiting to be invested' : 'nothing lies in it now',
        melting_range_celsius: PATTERN_RANGE,
        set_celsius: null,
        low_celsius: limits?.low ?? plan.usual.low,
        high_celsius: limits?.high ?? plan.usual.high,
        swing_limit_kelvin_in_24_h: limits?.swing ?? plan.usual.swing,
        ceiling_celsius: limits?.high ?? plan.usual.high,
        hours: 'always on',
        ready_by: null,
        control: plan.isRegulated ? 'regulated air' : 'none',
      };
  }
};
