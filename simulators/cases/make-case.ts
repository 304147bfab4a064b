// A labelled case by seed: a lab is drawn, a fault laid over it or none, and all of it run. Where the fault can do no
// harm there, or something else comes to harm, the lab is drawn anew; which lab it was depends on the seed alone.

import { DAY, HOUR } from '../days/calendar.ts';
import { drawFrom } from '../draw/draw.ts';
import { FAULT_IDS, FAULTS, type FaultId } from '../faults/all-faults.ts';
import type { InjectedFault, TrueSpell } from '../faults/injection.ts';
import { chargeDose } from '../harm/charge-dose.ts';
import type { Harm, HarmKind } from '../harm/harm.ts';
import { drawWorld } from '../stations/draw-world.ts';
import { NORMAL_KINDS, type NormalKind } from '../stations/normal-kinds.ts';
import type { WorldWishes } from '../stations/wishes.ts';
import { arrivals } from '../traces/gateway-stream.ts';
import type { WorldPlan } from '../world/plan.ts';
import type { CaseStation, LabelledCase, TrueFault } from './case.ts';
import { joinWishes } from './join-wishes.ts';
import { allLimits, type CaseOutcome, harmIn, runCase } from './outcome.ts';
import { stationFacts } from './station-facts.ts';
import { runWorld } from '../world/run-world.ts';

export { FAULT_IDS } from '../faults/all-faults.ts';
export type { NormalKind } from '../stations/normal-kinds.ts';

export const NORMAL_NAMES = Object.keys(NORMAL_KINDS) as readonly NormalKind[];

/** Equivalent hours that a charge is allowed, where it is far from them. */
const ROOMY_LIMITS = [300, 400, 500] as const;
const MOST_TRIES = 60;
/** Harm of these kinds at a station that no fault touches spoils a case. */
const SPOILS: readonly HarmKind[] = [
  'over-ceiling',
  'not-ready',
  'under-set',
  'molten-after-hours',
  'bare',
  'uneven',
  'outside-window',
  'pattern-outside',
  'pattern-swing',
];

interface NamedSpell extends TrueSpell {
  readonly fault: FaultId;
}

const isFault = (name: string): name is FaultId => (FAULT_IDS as readonly string[]).includes(name);
const isNormal = (name: string): name is NormalKind => (NORMAL_NAMES as readonly string[]).includes(name);

const wishesOf = (id: FaultId, seed: number): WorldWishes => {
  const { wishes, variant }: InjectedFault = FAULTS[id];
  return variant && drawFrom(seed, `${id}/variant`).chance(variant.share)
    ? { ...wishes, ...variant.wishes }
    : wishes;
};

/** What to lay over which lab. `normal` draws a kind of ordinary week by the seed. */
const readName = (
  name: string,
  seed: number,
): { wishes: WorldWishes; faults: readonly FaultId[]; called: string } => {
  if (name === 'normal' || name.startsWith('normal-')) {
    const asked = name.slice('normal-'.length);
    const kind = isNormal(asked) ? asked : NORMAL_NAMES[seed % NORMAL_NAMES.length];
    if (kind === undefined || (name !== 'normal' && !isNormal(asked)))
      throw new RangeError(`no ordinary week is called ${asked}; there are ${NORMAL_NAMES.join(', ')}`);
    return { wishes: NORMAL_KINDS[kind], faults: [], called: `normal-${kind}` };
  }
  const faults = name.split('+').map((id) => {
    if (!isFault(id)) throw new RangeError(`no fault is called ${id}; there are ${FAULT_IDS.join(', ')}`);
    return id;
  });
  const wishes = faults.map((id) => wishesOf(id, seed)).reduce(joinWishes);
  return { wishes, faults, called: name };
};

const lastsUntil = (named: NamedSpell, { harms }: CaseOutcome): number => {
  const after = harms
    .filter(
      ({ station, kind, since, until }) =>
        station === named.station &&
        named.lingering.includes(kind) &&
        since < named.ends &&
        until > named.begins,
    )
    .map(({ until }) => until);
  return Math.max(named.ends, ...after);
};

/** A fault answers for what comes to harm soon after it; a swing stays in the last day. */
const covers = (spells: readonly NamedSpell[], harm: Harm, outcome: CaseOutcome): boolean =>
  spells.some((named) => {
    const grace = harm.kind === 'pattern-swing' ? 1.1 * DAY : HOUR;
    const until = lastsUntil(named, outcome) + grace;
    return named.station === harm.station && harm.harm >= named.begins && harm.since <= until;
  });

/** Null where the case is not one: a fault without harm, or harm without a fault. */
const judge = (
  world: WorldPlan,
  spells: readonly NamedSpell[],
  outcome: CaseOutcome,
): readonly TrueFault[] | null => {
  const stray = outcome.harms.some((harm) => SPOILS.includes(harm.kind) && !covers(spells, harm, outcome));
  if (stray) return null;
  const iso = (at: number) => new Date(Math.round(at)).toISOString();
  const truth: TrueFault[] = [];
  for (const named of spells) {
    const begins = Math.max(named.begins, named.beganAt?.(outcome) ?? named.begins);
    const ends = Math.min(world.ends, lastsUntil(named, outcome));
    const harmAt = named.harm(outcome);
    const harm = harmAt !== null && harmAt > begins && harmAt <= ends ? harmAt : null;
    if (harm === null && named.mustHarm) return null;
    truth.push({
      station: named.station,
      fault: named.fault,
      begins: iso(begins),
      harm: harm === null ? null : iso(harm),
      ends: iso(ends),
    });
  }
  return truth;
};

const factsOf = (
  world: WorldPlan,
  spells: readonly NamedSpell[],
  outcome: CaseOutcome,
): readonly CaseStation[] => {
  const draw = drawFrom(world.seed, 'charges');
  return world.stations.map((plan) => {
    const record = outcome.records.get(plan.id);
    if (plan.kind !== 'pot' || record === undefined)
      return stationFacts(world, plan, outcome.limits.get(plan.id), undefined);
    const spent = spells.find(
      (named) => named.station === plan.id && named.doseLimitAt !== undefined,
    )?.doseLimitAt;
    const roomy = Math.max(
      draw.pick(ROOMY_LIMITS),
      2 * chargeDose(record, 'hottest', world.starts, world.ends),
    );
    const limit = spent === undefined ? roomy : chargeDose(record, 'hottest', world.starts, spent);
    return stationFacts(world, plan, undefined, Math.round(limit * 10) / 10);
  });
};

const attempt = (
  called: string,
  faults: readonly FaultId[],
  wishes: WorldWishes,
  seed: number,
  tried: number,
) => {
  const name = `${called}/${tried}`;
  const world = drawWorld(seed, name, wishes);
  const limits = allLimits(world);
  const spells: NamedSpell[] = [];
  for (const fault of faults) {
    const injected = FAULTS[fault].inject(world, drawFrom(seed, `${name}/${fault}`));
    if (injected === null) return null;
    spells.push(...injected.map((named) => ({ ...named, fault })));
  }
  // The places that are to come to harm are run first: most labs that will not do show it there.
  const first = runWorld(world, ({ id }) => spells.some(({ station }) => station === id));
  const early = { records: first, harms: harmIn(world, first, limits) };
  if (spells.some((named) => named.mustHarm && !named.isOfProbe && named.harm(early) === null)) return null;
  const outcome = runCase(world, limits, first);
  const truth = judge(world, spells, outcome);
  return truth && { world, spells, outcome, truth };
};

/**
 * @param name a fault's id, two joined by `+`, `normal`, or `normal-` with a kind of ordinary week.
 * @throws RangeError for a name that there is not.
 * @example makeCase('stuck_on', 17).truth // [{ station: 'pot-1', fault: 'stuck_on', begins, harm, ends }]
 */
export const makeCase = (name: string, seed: number): LabelledCase => {
  const { wishes, faults, called } = readName(name, seed);
  for (let tried = 0; tried < MOST_TRIES; tried += 1) {
    const made = attempt(called, faults, wishes, seed, tried);
    if (made === null) continue;
    const { world, spells, outcome, truth } = made;
    return {
      name: `${called}-s${seed}`,
      timeZone: world.hours.timeZone,
      starts: world.starts,
      ends: world.ends,
      stations: factsOf(world, spells, outcome),
      probes: outcome.streams.map(({ probe }) => probe),
      readings: arrivals(world, outcome.streams),
      truth,
    };
  }
  throw new RangeError(`no case ${called} came of seed ${seed} in ${MOST_TRIES} tries`);
};
