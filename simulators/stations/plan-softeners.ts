// Annealers, baths and lamps with their place, their people and their probes.

import { MINUTE } from '../days/calendar.ts';
import { heaterRuns, onSpells } from '../days/heater-day.ts';
import { bathWork, lampWork, soakSpells, soaksOf } from '../days/softener-work.ts';
import type { Draw } from '../draw/draw.ts';
import { annealerModel } from '../physics/annealer.ts';
import { singleMassModel } from '../physics/single-mass.ts';
import type { AnnealerPlan, BathPlan, LampPlan } from '../world/plan.ts';
import { drawProbe } from './draw-probe.ts';
import { drawAnnealer, drawBath, drawLamp } from './draw-softeners.ts';
import { readyTime, type PotSurroundings } from './plan-pot.ts';
import { airProbe } from './plan-places.ts';

const habitOf = (draw: Draw) => ({
  onAfterOpening: draw.chance(0.2) ? -draw.uniform(15, 45) : draw.uniform(0, 20),
  offBeforeClosing: draw.uniform(3, 40),
  offAtPauses: draw.chance(0.15),
  lateMinutes: draw.uniform(20, 60),
  lateShare: 0.04,
});

export const planAnnealer = (id: string, around: PotSurroundings, draw: Draw): AnnealerPlan => {
  const drawn = drawAnnealer(draw.branch('annealer'));
  const { design, trial, soakMinutes } = drawn;
  const habit = { ...habitOf(draw), offAtPauses: false };
  const runs = heaterRuns(around.calendar, habit, draw.branch('runs'));
  const soaks = soaksOf(runs, (trial.setSeconds * 1.3) / 60 + 10, soakMinutes, draw.branch('soaks'));
  const doors = draw.branch('doors');
  const seconds = draw.branch('seconds').pick([5, 10, 10, 20, 30, 60]);
  const probe = (index: number, where: string, spot: string) => ({
    ...airProbe(id, index, where, spot, around, draw),
    seconds,
  });
  return {
    kind: 'annealer',
    id,
    called: draw.pick(['annealer', 'softening cabinet']),
    room: around.room,
    setCelsius: drawn.setCelsius,
    window: drawn.window,
    ceilingCelsius: drawn.ceilingCelsius,
    soakMinutes,
    unevenKelvin: drawn.unevenKelvin,
    warmUpSeconds: trial.setSeconds,
    soaks: soaks.slice(),
    readyBy: readyTime(around.hours, habit.onAfterOpening, trial.setSeconds),
    runs: runs.slice(),
    spells: [...onSpells(runs), ...soaks.flatMap((soak) => soakSpells(soak, doors))],
    probes: [probe(1, 'upper zone', 'upper'), probe(2, 'lower zone', 'lower')],
    build: (start, source) => annealerModel(design, start, source),
  };
};

export const planBath = (id: string, around: PotSurroundings, draw: Draw, coolsAtNoon: boolean): BathPlan => {
  const drawn = drawBath(draw.branch('bath'));
  const { design, trial } = drawn;
  const habit = habitOf(draw);
  const early = draw.branch('noon');
  const whole = heaterRuns(around.calendar, habit, draw.branch('runs'));
  const runs = coolsAtNoon
    ? whole.map(({ from, to }) => ({ from, to: from + (to - from) * early.uniform(0.4, 0.75) }))
    : whole;
  const warm = runs
    .map(({ from, to }) => ({ from: from + trial.setSeconds * 1300 + 10 * MINUTE, to }))
    .filter(({ from, to }) => from < to);
  return {
    kind: 'bath',
    id,
    called: 'water bath',
    room: around.room,
    setCelsius: drawn.setCelsius,
    window: drawn.window,
    ceilingCelsius: drawn.ceilingCelsius,
    warmUpSeconds: trial.setSeconds,
    readyBy: readyTime(around.hours, habit.onAfterOpening, trial.setSeconds),
    runs: runs.slice(),
    spells: [...onSpells(runs), ...bathWork(around.calendar, warm, draw.branch('work'))],
    probes: [
      drawProbe(draw.branch('probe'), {
        id: `${id}-p1`,
        where: 'in the water',
        spot: 'middle',
        gateway: around.gateway,
        medium: 'water',
        days: around.days,
      }),
    ],
    build: (start, source) => singleMassModel(design, start, source),
  };
};

export const planLamp = (id: string, around: PotSurroundings, draw: Draw): LampPlan => {
  const { design, ceilingCelsius } = drawLamp(draw.branch('lamp'));
  return {
    kind: 'lamp',
    id,
    called: 'infrared lamp',
    room: around.room,
    ceilingCelsius,
    spells: [...lampWork(around.calendar, draw.branch('work'))],
    probes: [
      drawProbe(draw.branch('probe'), {
        id: `${id}-p1`,
        where: 'under the lamp',
        spot: 'middle',
        gateway: around.gateway,
        medium: 'water',
        days: around.days,
      }),
    ],
    build: (start, source) => singleMassModel(design, start, source),
  };
};
