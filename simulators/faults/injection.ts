// A fault laid over a lab: it adds to the lab's lists, and records what was wrong, from when to when, and what would be harm.

import { type CalendarDay, HOUR, MINUTE } from '../days/calendar.ts';
import type { Draw } from '../draw/draw.ts';
import type { Harm, HarmKind } from '../harm/harm.ts';
import type { WorldWishes } from '../stations/wishes.ts';
import type { HeaterPlan, WorldStation, WorldPlan } from '../world/plan.ts';
import type { WorldRecord } from '../world/run-world.ts';

export interface WorldOutcome {
  readonly records: WorldRecord;
  readonly harms: readonly Harm[];
}

/** When harm came, true instants; null where none did. */
export type HarmRule = (outcome: WorldOutcome) => number | null;

export interface TrueSpell {
  readonly station: string;
  readonly begins: number;
  /** When it was put right; what it did to the place may last longer. */
  readonly ends: number;
  readonly harm: HarmRule;
  /** Harm that lasts on after `ends` prolongs it; and so do these. */
  readonly lingering: readonly HarmKind[];
  /** A case in which it does no harm is made anew. */
  readonly mustHarm: boolean;
  /** Harm is what a probe reads, not what is. */
  readonly isOfProbe?: boolean;
  /** Where it began is known only from what happened; `begins` is then the earliest. */
  readonly beganAt?: (outcome: WorldOutcome) => number;
  /** Ageing limit of the charge is set so that it is reached at this instant. */
  readonly doseLimitAt?: number;
}

export interface InjectedFault {
  readonly wishes: WorldWishes;
  /** So many of its cases wish this on top. */
  readonly variant?: { readonly share: number; readonly wishes: Partial<WorldWishes> };
  /** Null where this lab offers no place or time for it. */
  readonly inject: (world: WorldPlan, draw: Draw) => readonly TrueSpell[] | null;
}

/** First harm of these kinds at the station from an instant on. */
const firstHarm =
  (station: string, kinds: readonly HarmKind[], from: number, to = Number.POSITIVE_INFINITY): HarmRule =>
  ({ harms }) => {
    const instants = harms
      .filter(
        (candidate) =>
          candidate.station === station &&
          kinds.includes(candidate.kind) &&
          candidate.harm >= from &&
          candidate.harm <= to,
      )
      .map(({ harm }) => harm);
    return instants.length === 0 ? null : Math.min(...instants);
  };

export const noHarm: HarmRule = () => null;

export const spell = (
  station: string,
  begins: number,
  ends: number,
  kinds: readonly HarmKind[],
  more: Partial<TrueSpell> = {},
): TrueSpell => ({
  station,
  begins,
  ends,
  harm: firstHarm(station, kinds, begins),
  lingering: kinds,
  mustHarm: true,
  ...more,
});

/** Worked days of the case that have at least two worked days before them; the later ones where there are few. */
export const laterDays = (world: WorldPlan, spare = 0): readonly CalendarDay[] => {
  const inside = world.days.slice(1, world.days.length - 1 - spare).filter(({ work }) => work !== null);
  const later = inside.slice(2);
  return later.length > 0 ? later : inside.slice(-1);
};

export const pickFrom = <T>(draw: Draw, list: readonly T[]): T | null => {
  const [first, ...rest] = list;
  return first === undefined ? null : draw.pick([first, ...rest]);
};

type PlanOf<K, P = WorldStation> = P extends { readonly kind: infer Q } ? (K extends Q ? P : never) : never;

export const stationsOf = <K extends WorldStation['kind']>(world: WorldPlan, kind: K): readonly PlanOf<K>[] =>
  world.stations.filter((candidate): candidate is PlanOf<K> & WorldStation => candidate.kind === kind);

/** Runs of a heater on the later days, from where it is warm. */
export const warmRunsLater = (world: WorldPlan, plan: HeaterPlan) => {
  const days = laterDays(world);
  return plan.runs
    .filter(({ from }) => days.some(({ start, end }) => from >= start && from < end))
    .map((run) => ({ ...run, warm: run.from + plan.warmUpSeconds * 1250 + 12 * MINUTE }))
    .filter(({ warm, to }) => to - warm > 1.5 * HOUR);
};

/** An instant within a warm run, with `leave` milliseconds left of it. */
export const warmInstant = (
  world: WorldPlan,
  plan: HeaterPlan,
  draw: Draw,
  leave = HOUR,
): { readonly at: number; readonly offAt: number } | null => {
  const run = pickFrom(draw, warmRunsLater(world, plan));
  return run === null ? null : { at: draw.uniform(run.warm, run.to - leave), offAt: run.to };
};
