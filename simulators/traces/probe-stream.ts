// What one probe answers over a case: it feels its spot late, it is a little noisy, it answers in steps, it loses an
// answer now and then; and what goes wrong with it, with the times in which it was wrong by more than is let pass.

import { drawFrom } from '../draw/draw.ts';
import type { WorldProbe, ProbeTrouble, WorldPlan } from '../world/plan.ts';
import { column, type PlaceRecord } from '../world/record.ts';
import type { WorldRecord } from '../world/run-world.ts';

export interface WrongSpell {
  readonly since: number;
  readonly until: number;
}

export interface ProbeStream {
  readonly probe: string;
  readonly gateway: string;
  /** True instants of measurement. */
  readonly at: Float64Array;
  readonly celsius: Float64Array;
  readonly wrong: readonly WrongSpell[];
}

const WARM_IN = 1_800_000;
/** Right answers for so long end a wrong spell. */
const RIGHT_AGAIN = 60_000;

interface Feeler {
  readonly step: (at: number) => number;
}

/** Follows a spot with the probe's lag; `troubled` hangs it elsewhere while a trouble lasts. */
const feeler = (
  plan: WorldProbe,
  home: PlaceRecord,
  records: WorldRecord,
  troubles: readonly ProbeTrouble[],
  from: number,
): Feeler => {
  const own = column(home, plan.spot);
  const moves = troubles.flatMap((trouble) => {
    if (trouble.kind !== 'moved') return [];
    const place = records.get(trouble.station);
    return place === undefined ? [] : [{ ...trouble, place, values: column(place, trouble.spot) }];
  });
  const stepSeconds = home.stepMillis / 1000;
  const keepAtHome = Math.exp(-stepSeconds / Math.max(0.01, plan.lagSeconds));
  const state = { felt: own[Math.floor((from - home.from) / home.stepMillis)] ?? 20 };
  return {
    step: (at) => {
      const move = moves.length === 0 ? undefined : moves.find((move) => at >= move.from && at < move.to);
      const place = move?.place ?? home;
      const values = move?.values ?? own;
      const now = values[Math.min(values.length - 1, Math.floor((at - place.from) / place.stepMillis))] ?? 20;
      const keep = move
        ? Math.exp(-stepSeconds / Math.max(0.01, plan.lagSeconds * move.lagFactor))
        : keepAtHome;
      state.felt = now + (state.felt - now) * keep;
      return state.felt;
    },
  };
};

const driftOf = (troubles: readonly ProbeTrouble[], at: number): number => {
  let kelvin = 0;
  for (const trouble of troubles)
    if (trouble.kind === 'drift' && at > trouble.from && at < trouble.to)
      kelvin += ((at - trouble.from) / 3_600_000) * trouble.kelvinPerHour;
  return kelvin;
};

/** @param rightMillis answers that are right for no longer than this do not end a wrong spell. */
const wrongNotes = (limitKelvin: number, rightMillis: number) => {
  const spells: WrongSpell[] = [];
  let open: WrongSpell | null = null;
  return {
    note: (instant: number, byKelvin: number): void => {
      if (Math.abs(byKelvin) > limitKelvin) open = { since: open?.since ?? instant, until: instant };
      else if (open !== null && instant - open.until > rightMillis) {
        spells.push(open);
        open = null;
      }
    },
    spells: (): readonly WrongSpell[] => (open === null ? spells : [...spells, open]),
  };
};

/** @param limitKelvin by how much an answer may be wrong. */
export const probeStream = (
  world: WorldPlan,
  plan: WorldProbe,
  home: PlaceRecord,
  records: WorldRecord,
  limitKelvin: number,
): ProbeStream => {
  const { starts, ends } = world;
  const draw = drawFrom(world.seed, `probe/${plan.id}`);
  const troubles = plan.troubles;
  const isTroubled = troubles.length > 0;
  const from = starts - WARM_IN;
  const good = feeler(plan, home, records, [], from);
  const actual = isTroubled ? feeler(plan, home, records, troubles, from) : good;
  const stuck = troubles.find((trouble) => trouble.kind === 'stuck');
  const loose = troubles.find((trouble) => trouble.kind === 'loose');
  const capacity = Math.ceil((ends - starts) / 1000 / plan.seconds) + 2;
  const at = new Float64Array(capacity);
  const celsius = new Float64Array(capacity);
  const wrong = wrongNotes(
    limitKelvin,
    troubles.some((trouble) => trouble.kind === 'loose') ? RIGHT_AGAIN : 0,
  );
  let count = 0;
  let held = Number.NaN;
  let isBad = false;
  let flipsAt = loose?.from ?? Number.POSITIVE_INFINITY;

  const answer = (instant: number, trueCelsius: number, goodCelsius: number): void => {
    let value = trueCelsius + plan.offsetKelvin + draw.normal() * plan.noiseKelvin;
    if (isTroubled) {
      value += driftOf(troubles, instant);
      if (loose && instant >= loose.from && instant < loose.to) {
        while (instant >= flipsAt) {
          isBad = !isBad;
          flipsAt += -Math.log(1 - draw.source()) * 1000 * (isBad ? loose.badSeconds : loose.goodSeconds);
        }
        if (isBad && draw.chance(loose.lostShare)) return;
        if (isBad) value += draw.normal() * loose.scatterKelvin;
      }
      if (stuck && instant >= stuck.from && instant < stuck.to) value = Number.isNaN(held) ? value : held;
      else held = value;
      wrong.note(instant, value - goodCelsius - plan.offsetKelvin);
    }
    if (draw.chance(plan.lostShare)) return;
    at[count] = Math.round(instant);
    const steps = Math.round(value / plan.resolutionKelvin);
    celsius[count] = Math.round(steps * plan.resolutionKelvin * 10_000) / 10_000;
    count += 1;
  };

  const period = plan.seconds * 1000;
  const scatter = Math.min(350, period * 0.06);
  let nominal = starts + draw.uniform(0, period);
  let next = nominal;
  let goodBefore = good.step(from);
  let actualBefore = isTroubled ? actual.step(from) : goodBefore;
  for (let instant = from + home.stepMillis; instant <= ends; instant += home.stepMillis) {
    const goodNow = good.step(instant);
    const actualNow = isTroubled ? actual.step(instant) : goodNow;
    while (next < instant && next < ends) {
      const share = 1 - (instant - next) / home.stepMillis;
      if (next >= starts)
        answer(
          next,
          actualBefore + (actualNow - actualBefore) * share,
          goodBefore + (goodNow - goodBefore) * share,
        );
      nominal += period;
      next = nominal + draw.uniform(-scatter, scatter);
    }
    goodBefore = goodNow;
    actualBefore = actualNow;
  }
  return {
    probe: plan.id,
    gateway: plan.gateway,
    at: at.subarray(0, count),
    celsius: celsius.subarray(0, count),
    wrong: wrong.spells(),
  };
};
