// A whole laboratory moved through time: the room under the weather, the stations in the room, people by the plan of
// the day, faults over both, probes that feel it all. Deterministic: the same options give the same readings.

import { type Fault, faultsAt } from '../faults/fault.ts';
import { outdoorsCelsius, sunShare } from '../physics/outdoors.ts';
import { roomModel } from '../physics/room.ts';
import { QUIET, type HeatInput, type StationModel } from '../physics/station-model.ts';
import { type ProbeDesign, type SimulatedProbe, simulatedProbe } from '../probe/probe.ts';
import type { GatewayDesign, SimulatedReading } from '../probe/wire-format.ts';
import { DEMO_ROOM } from './demo-room.ts';
import type { SimulatedStation } from './demo-lab.ts';
import { planDay, type RoutineSpell, type SwitchedOn } from './routine.ts';
import { dayOf, type SimulatedDay, type SimulatedSite } from './site-hours.ts';

export interface LabSimulationOptions {
  readonly site: SimulatedSite;
  readonly stations: readonly SimulatedStation[];
  readonly probes: readonly ProbeDesign[];
  readonly gateways: readonly GatewayDesign[];
  readonly seed: number;
  readonly from: number;
}

export interface LabSimulation {
  readonly now: () => number;
  /** Moves to `to`; each probe answers every `every(station)` milliseconds, on the clock of 1970. */
  readonly advance: (to: number, every: (station: string) => number) => readonly SimulatedReading[];
  readonly addFaults: (faults: readonly Fault[]) => void;
  /** Replaces when heaters are switched on during the day that holds `at`. */
  readonly setSwitchedOn: (at: number, switchedOn: SwitchedOn) => void;
  readonly isGatewayDead: (gateway: string) => boolean;
  readonly models: ReadonlyMap<string, StationModel>;
}

/** The step of what changes fast, and of what does not. */
const SHORT_STEP = 2000;
const LONG_STEP = 10_000;
const START_CELSIUS = 20.5;
const HOUR = 3_600_000;

// biome-ignore lint/complexity/noExcessiveLinesPerFunction: day, faults and models are one state that every step reads and moves on
export const labSimulation = (options: LabSimulationOptions): LabSimulation => {
  const { site, seed } = options;
  const room = roomModel(DEMO_ROOM, START_CELSIUS);
  const models = new Map<string, StationModel>([['room', room]]);
  for (const { id, build } of options.stations) models.set(id, build(START_CELSIUS));
  const probes = options.probes.map((design) => simulatedProbe(design, START_CELSIUS, seed));
  const probesOf = new Map<string, SimulatedProbe[]>();
  for (const probe of probes) {
    const { station } = probe.design;
    probesOf.set(station, [...(probesOf.get(station) ?? []), probe]);
  }
  const gatewayOf = new Map(options.gateways.flatMap(({ id, probes: ids }) => ids.map((p) => [p, id])));
  const usedLike = new Map(options.stations.map((station) => [station.id, station.usedLike ?? station.id]));
  const lastAnswer = new Map<string, number>();
  const faults: Fault[] = [];
  const switched = new Map<string, SwitchedOn>();
  const start = Math.ceil(options.from / LONG_STEP) * LONG_STEP;
  const advancedTo = new Map<string, number>();
  let now = start;
  let day: SimulatedDay = dayOf(site, now);
  let spells: ReadonlyMap<string, readonly RoutineSpell[]> = new Map();

  const planNextDay = () => {
    const byStation = new Map<string, RoutineSpell[]>();
    for (const spell of planDay(day, seed, switched.get(day.date)))
      byStation.set(spell.station, [...(byStation.get(spell.station) ?? []), spell]);
    spells = byStation;
  };
  planNextDay();

  const inputOf = (station: string, around: HeatInput, active: readonly Fault[]): HeatInput => {
    let { on, open, busy, powered, stuckOn, shiftCelsius, levelAtMost } = around;
    let freshLoad = false;
    let toppedUp = false;
    for (const spell of spells.get(usedLike.get(station) ?? station) ?? []) {
      if (now < spell.from || now >= spell.to) continue;
      if (spell.doing === 'on') on = true;
      else if (spell.doing === 'open') open = true;
      else if (spell.doing === 'busy') busy = true;
      else if (spell.doing === 'load') freshLoad = true;
      else toppedUp = true;
    }
    for (const fault of active) {
      if (fault.kind === 'power-cut') powered = false;
      else if (fault.kind === 'window-open') open ||= station === 'room';
      else if ('station' in fault && fault.station === station) {
        if (fault.kind === 'thermostat-stuck-on') stuckOn = true;
        else if (fault.kind === 'left-on') on = true;
        else if (fault.kind === 'switched-off') on = false;
        else if (fault.kind === 'set-point-shifted') shiftCelsius += fault.celsius;
        else levelAtMost = Math.min(levelAtMost, fault.share);
      }
    }
    return { ...around, on, open, busy, powered, stuckOn, shiftCelsius, levelAtMost, freshLoad, toppedUp };
  };

  /** One short step of everything that is due for one. */
  const step = () => {
    if (now >= day.end) {
      day = dayOf(site, now);
      planNextDay();
    }
    const active = faults.length === 0 ? faults : faultsAt(faults, now);
    const hour = (now - day.start) / HOUR;
    const around: HeatInput = {
      ...QUIET,
      roomCelsius: room.spots.air?.() ?? START_CELSIUS,
      outdoorsCelsius: outdoorsCelsius(now, hour, seed),
      sun: sunShare(now, hour, seed),
    };
    for (const [station, model] of models) {
      const millis = now + SHORT_STEP - (advancedTo.get(station) ?? start);
      if (millis < LONG_STEP && !model.isLively()) continue;
      advancedTo.set(station, now + SHORT_STEP);
      const seconds = millis / 1000;
      model.advance(inputOf(station, around, active), seconds);
      for (const probe of probesOf.get(station) ?? [])
        probe.feel(model.spots[probe.design.spot]?.() ?? START_CELSIUS, seconds);
    }
    now += SHORT_STEP;
    return active;
  };

  return {
    now: () => now,
    models,
    addFaults: (more) => faults.push(...more),
    isGatewayDead: (gateway) =>
      faultsAt(faults, now).some((fault) => fault.kind === 'gateway-dead' && fault.gateway === gateway),
    setSwitchedOn: (at, switchedOn) => {
      switched.set(dayOf(site, at).date, switchedOn);
      planNextDay();
    },
    advance: (to, every) => {
      const readings: SimulatedReading[] = [];
      while (now + SHORT_STEP <= to) {
        const active = step();
        for (const { design, answer } of probes) {
          if (now % every(design.station) !== 0) continue;
          const isDead = active.some(
            (fault) => fault.kind === 'gateway-dead' && fault.gateway === gatewayOf.get(design.id),
          );
          if (isDead) continue;
          const isStuck = active.some((fault) => fault.kind === 'probe-stuck' && fault.probe === design.id);
          const celsius = (isStuck ? lastAnswer.get(design.id) : undefined) ?? answer();
          lastAnswer.set(design.id, celsius);
          readings.push({ probe: design.id, at: now, celsius });
        }
      }
      return readings;
    },
  };
};
