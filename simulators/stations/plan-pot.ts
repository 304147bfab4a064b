// A pot with its place, its people and its probe.

import type { CalendarDay, LabHours } from '../days/calendar.ts';
import { heaterRuns, onSpells } from '../days/heater-day.ts';
import { potWork } from '../days/pot-work.ts';
import type { Draw } from '../draw/draw.ts';
import { potModel } from '../physics/pot.ts';
import type { PotPlan } from '../world/plan.ts';
import { type DrawnPot, drawPot } from './draw-pot.ts';
import { drawProbe } from './draw-probe.ts';
import type { PotWishes } from './wishes.ts';

export interface PotSurroundings {
  readonly hours: LabHours;
  readonly calendar: readonly CalendarDay[];
  readonly days: number;
  readonly room: string;
  readonly gateway: string;
}

/** `HH:MM` by which something that takes so long is ready every morning, on the quarter of an hour. */
export const readyTime = (hours: LabHours, onAfterOpening: number, warmSeconds: number): string => {
  const [hour = 0, minute = 0] = hours.from.split(':').map(Number);
  const after = onAfterOpening + 8 + 12 + (warmSeconds * 1.25) / 60;
  const total = Math.ceil((hour * 60 + minute + after) / 15) * 15;
  return `${String(Math.floor(total / 60)).padStart(2, '0')}:${String(total % 60).padStart(2, '0')}`;
};

const fits = (pot: DrawnPot, wishes: PotWishes): boolean => {
  if (wishes.control !== undefined && pot.control !== wishes.control) return false;
  const [least, most] = wishes.hysteresisKelvin ?? [0, 100];
  return pot.hysteresisKelvin >= least && pot.hysteresisKelvin <= most;
};

const potThatFits = (draw: Draw, wishes: PotWishes): DrawnPot => {
  for (let i = 0; ; i += 1) {
    const pot = drawPot(draw.branch(`pot-${i}`));
    if (fits(pot, wishes)) return pot;
  }
};

export const planPot = (id: string, around: PotSurroundings, draw: Draw, wishes: PotWishes): PotPlan => {
  const pot = potThatFits(draw, wishes);
  const { design, trial } = pot;
  const preheat = wishes.preheatMinutes ?? (draw.chance(0.2) ? ([20, 60] as const) : null);
  const onAfterOpening = preheat ? -draw.uniform(...preheat) : draw.uniform(0, 12);
  const offAtPauses = wishes.stayOnAtPauses ? false : draw.chance(0.2);
  const runs = heaterRuns(
    around.calendar,
    {
      onAfterOpening,
      offBeforeClosing: draw.uniform(3, 25),
      offAtPauses,
      lateMinutes: draw.uniform(...(wishes.lateMinutes ?? [20, 60])),
      lateShare: wishes.lateShare ?? 0.04,
    },
    draw.branch('runs'),
  );
  const small = design.waxGrams < 800;
  const work = potWork(
    around.calendar,
    runs,
    (trial.setSeconds * 1.2) / 60 + 10,
    {
      everyMinutes: wishes.dipsOften ? draw.uniform(8, 20) : draw.uniform(20, 70),
      shortest: 2,
      longest: draw.uniform(6, 25),
      strokes: wishes.neverFilled ? 0 : draw.whole(0, 3),
      strokeShare: draw.uniform(0.004, small ? 0.02 : 0.012),
      topsUpBelow: draw.uniform(0.04, 0.15),
      pieceShare: draw.uniform(0.015, 0.05),
      addsHotCelsius: (wishes.addsHot ?? draw.chance(0.15)) ? pot.setCelsius + draw.uniform(-4, 4) : null,
      lidOffShare: wishes.lidOffShare ?? 0.02,
      lidOffMinutes: draw.uniform(30, 150),
    },
    draw.branch('work'),
  );
  const kind =
    design.melting.liquidus > 66 && draw.chance(0.4) ? 'dipping pot' : draw.pick(['melting pot', 'wax pot']);
  const fine = wishes.finestProbe ? { isFine: true } : {};
  const probe = drawProbe(draw.branch('probe'), {
    id: `${id}-p1`,
    where: 'in the wax',
    spot: 'wax',
    gateway: around.gateway,
    medium: 'wax',
    days: around.days,
    ...fine,
  });
  return {
    kind: 'pot',
    id,
    called: kind,
    room: around.room,
    wax: pot.wax,
    melting: design.melting,
    setCelsius: pot.setCelsius,
    ceilingCelsius: pot.ceilingCelsius,
    control: pot.control,
    watts: design.heaterWatts,
    hysteresisKelvin: pot.hysteresisKelvin,
    periodSeconds: trial.periodSeconds,
    warmUpSeconds: trial.setSeconds,
    bareBelow: Math.max(design.probeBareBelow ?? 0, design.feelerBareBelow ?? 0),
    readyBy: readyTime(around.hours, onAfterOpening, trial.moltenSeconds),
    runs: runs.slice(),
    spells: [...onSpells(runs), ...work],
    probes: [probe],
    build: (start, source) => potModel(design, start, source),
  };
};
