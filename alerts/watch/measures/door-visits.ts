// What was done at each door of a softening cabinet, where nobody records loads: laid in, taken out, both at once, or only
// looked. One door alone proves little, so the doors since it became warm are explained together: the explanation that costs
// least counts. Loads stay in for their time, so the doors before a door show more of it than its own temperature does.

import { MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import { type DoorOpening, type DoorSigns, FEWEST_SHUT } from './door-signs.ts';

/**
 * Costs are natural logarithms of how much more seldom something is: one load of seven is taken out too soon, one door of
 * twelve or twenty is a look. Engineering estimates.
 */
const COST = {
  laidIn: 0.1,
  takenOut: 0.05,
  takenOutEarly: 1.5,
  takenOutAtOnce: 6,
  exchanged: 3,
  lookedIntoEmpty: 2.5,
  lookedAtLoad: 3,
  /** More laid in with a load. */
  added: 2.5,
  /** The second door of one visit. */
  openedAgain: 0.7,
  takenOutUnseen: 1,
  /** How the cabinet was when its doors began to show. */
  emptyAtFirst: 0.2,
  loadedAtFirst: 1.5,
} as const;
/** Times read off the temperature are not exact. */
const SHARE_OF_NEEDED = 0.85;
/** Shares of the time that is needed: below the first it is one visit, beyond the second, and an hour, seldom one load. */
const ONE_VISIT_SHARE = 0.22;
const LONG_SHARE = 3;
const AGAIN_MILLIS = 200_000;
const LONG_MILLIS = 60 * MILLIS_PER_MINUTE;
/** Kelvins and share of its band that the top after a door scatters by, at least. */
const LEAST_SCATTER = 0.15;
const SCATTER_SHARE = 0.15;
/** Standard deviations and steps of a reading that two tops differ by without any meaning. */
const SCATTER_NOISES = 1;
const SCATTER_STEPS = 1.5;
/** Scatters above the usual top where both are as likely, and the most that one door may count. */
const MIDDLE = 0.2;
const MOST_SAID = 2;
/** A wide band hides what a load does; where the tops of shut cycles lie nearer together they are the measure: usual distances. */
const TOP_SCATTERS = 2;
/** So far under its band its air does not come back from a door: it was switched off. */
const OFF_KELVINS = 3;

/**
 * How much likelier the air is to come back so with nothing cold inside than with a load that was laid in. After a door the
 * heater makes up for the air that was lost: a cold load takes that heat up, so that the air comes back short of its usual
 * top; with nothing cold inside it reaches that top or overshoots.
 */
function warmth({ top }: DoorOpening, { high, low, noise = 0, shut, step = 0 }: DoorSigns): number {
  const least = Math.max(LEAST_SCATTER, SCATTER_NOISES * noise, SCATTER_STEPS * step);
  const ofBand = Math.max(least, SCATTER_SHARE * (high - low));
  const ofTops = Math.max(least, TOP_SCATTERS * (shut?.scatter ?? 0));
  const isSharper = shut !== undefined && shut.learned >= FEWEST_SHUT && ofTops < ofBand;
  const said = isSharper ? (top - Math.max(high, shut.mean)) / ofTops : (top - high) / ofBand - MIDDLE;
  return Math.max(-MOST_SAID, Math.min(MOST_SAID, said));
}

/** A load that may be in: the cheapest explanation that has it there, and the door that it came by. */
interface Inside {
  readonly cost: number;
  readonly laidIn: Pick<DoorOpening, 'at' | 'top'>;
}

interface Explained {
  readonly empty: number;
  readonly inside: readonly Inside[];
}

const isEarly = ({ laidIn }: Inside, at: number, neededMillis: number): boolean =>
  at - laidIn.at < SHARE_OF_NEEDED * neededMillis && at - laidIn.at >= ONE_VISIT_SHARE * neededMillis;

function takingOutCost(load: Inside, at: number, neededMillis: number): number {
  if (isEarly(load, at, neededMillis)) return COST.takenOutEarly;
  return at - load.laidIn.at < ONE_VISIT_SHARE * neededMillis ? COST.takenOutAtOnce : COST.takenOut;
}

/** A load seldom stays in for so long: rather it was taken out at a door that did not show. */
const isLong = ({ laidIn }: Inside, at: number, neededMillis: number): boolean =>
  at - laidIn.at > LONG_SHARE * neededMillis + LONG_MILLIS;

function withoutLong({ empty, inside }: Explained, at: number, neededMillis: number): Explained {
  const unseen = inside.filter((load) => isLong(load, at, neededMillis)).map(({ cost }) => cost);
  return {
    empty: Math.min(empty, ...unseen.map((cost) => cost + COST.takenOutUnseen)),
    inside: inside.filter((load) => !isLong(load, at, neededMillis)),
  };
}

/** What is known after one more door: `saysWarm` by its own sign, and with only such loads taken out at it as `counts`. */
function explain(
  before: Explained,
  door: DoorOpening,
  saysWarm: number,
  neededMillis: number,
  counts: (load: Inside) => boolean,
): Explained {
  const { empty, inside } = withoutLong(before, door.at, neededMillis);
  const warm = Math.max(0, -saysWarm);
  const cold = Math.max(0, saysWarm);
  const out = Math.min(
    ...inside.filter(counts).map((load) => load.cost + takingOutCost(load, door.at, neededMillis)),
  );
  const stayed = inside.map(({ cost, laidIn }) => ({
    laidIn,
    cost:
      cost +
      (door.at - laidIn.at <= AGAIN_MILLIS
        ? COST.openedAgain + warm
        : Math.min(COST.lookedAtLoad + warm, COST.added + cold)),
  }));
  return {
    empty: Math.min(empty + COST.lookedIntoEmpty, out) + warm,
    inside: [...stayed, { laidIn: door, cost: Math.min(empty + COST.laidIn, out + COST.exchanged) + cold }],
  };
}

/**
 * Minutes that a load was in which was taken out too soon at the newest door; null where another explanation is as likely,
 * or the air came back no higher than when it was laid in.
 * @param since when the cabinet became warm
 */
export function findEarlyTakingOut(signs: DoorSigns, since: number, neededMinutes: number): number | null {
  const doors = signs.openings.filter(({ at, top }) => at >= since && top > signs.low - OFF_KELVINS);
  const newest = doors.at(-1);
  if (newest === undefined || newest !== signs.openings.at(-1)) return null;
  const neededMillis = neededMinutes * MILLIS_PER_MINUTE;
  // Before it was warm nobody saw its doors, and nothing is known of how its air came back.
  const unseen = { cost: COST.loadedAtFirst, laidIn: { at: since, top: Number.POSITIVE_INFINITY } };
  let before: Explained = { empty: COST.emptyAtFirst, inside: [unseen] };
  for (const door of doors.slice(0, -1))
    before = explain(before, door, warmth(door, signs), neededMillis, () => true);
  const saysWarm = warmth(newest, signs);
  const isTooSoon = (load: Inside): boolean => isEarly(load, newest.at, neededMillis);
  const { empty, inside } = explain(before, newest, saysWarm, neededMillis, (load) => !isTooSoon(load));
  const otherwise = Math.min(empty, ...inside.map(({ cost }) => cost));
  const [early] = before.inside
    .filter((load) => isTooSoon(load) && load.laidIn.top < newest.top)
    .sort((first, second) => first.cost - second.cost);
  if (early === undefined || early.cost + COST.takenOutEarly + Math.max(0, -saysWarm) >= otherwise)
    return null;
  return (newest.at - early.laidIn.at) / MILLIS_PER_MINUTE;
}
