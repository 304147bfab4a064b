// What was put into an annealer or a bath to soften: for how long it has been warm enough, and how warm its core is.
// The core is worked out by transient conduction from the temperature of the place (wax/soak); it is a model of the
// piece that the lab named, laid in at room temperature, and no measurement.

import { soakCore, type SoakState, soakStart, soakStep, softToTheCoreAt } from '../../../wax/heat/soak.ts';
import { type SoakShape, type Surroundings, soakBody, soakMaterialOf } from '../../../wax/heat/soak-body.ts';
import type { Celsius, EpochMillis } from '../../../wax/units.ts';
import type { WaxClass } from '../../../wax/wax-class.ts';

/** Plain JSON. */
export interface Load {
  readonly load: string;
  readonly since: number;
  /** Minutes at the softening temperature so far. */
  readonly soakedMinutes: number;
  /** Temperatures within the piece; null until the place was measured with it in, and where no wax is known. */
  readonly soak: SoakState | null;
  /** Where the wax counts as soft, °C; null where no wax is known. */
  readonly softAt: number | null;
  /** Null while it is in. */
  readonly takenOutAt: number | null;
  readonly lastAt: number;
}

/** What is known of place and piece. */
export interface SoakPlace {
  /** Time counts from this temperature of the place on, °C. */
  readonly warmFrom: number;
  readonly wax: WaxClass | null;
  readonly shape: SoakShape;
  readonly surroundings: Surroundings;
}

/** A longer silence does not count as warm. Common practice. */
const LONGEST_GAP_MINUTES = 5;
/** Sticks lie about in the room before. Common practice. */
const ROOM_CELSIUS = 20 as Celsius;

export const loadIn = (load: string, at: number): Load => ({
  load,
  since: at,
  soakedMinutes: 0,
  soak: null,
  softAt: null,
  takenOutAt: null,
  lastAt: at,
});

/** Null while nothing is known of it. */
export const coreOf = ({ soak }: Load): number | null => (soak === null ? null : soakCore(soak));

/** The core is soft; also true where no wax is known, so that the minutes alone decide. */
export const isSoftToTheCore = (load: Load): boolean => {
  const core = coreOf(load);
  return core === null || load.softAt === null || core >= load.softAt;
};

/**
 * Soft is the end of the transition, where all of the wax has gone through it; but never above the least that the
 * place must be, because no core gets warmer than that.
 */
const softAt = ({ wax, warmFrom }: SoakPlace): number | null =>
  wax === null ? null : Math.min(wax.transition.high.value, warmFrom - 1);

const advanceSoak = (load: Load, at: number, celsius: number, place: SoakPlace): SoakState | null => {
  if (place.wax === null) return null;
  const body = soakBody(place.shape, soakMaterialOf(place.wax), place.surroundings);
  if (!body.ok) return null;
  const now = [at as EpochMillis, celsius as Celsius] as const;
  if (load.soak === null) {
    const laidIn = soakStart(body.value, load.lastAt as EpochMillis, ROOM_CELSIUS, now[1]);
    return isGap(load, at) ? { ...laidIn, at: now[0] } : soakStep(laidIn, body.value, ...now);
  }
  // Nothing is known of a gap, so the core is taken to have stayed as it was.
  return isGap(load, at)
    ? { ...load.soak, at: now[0], outside: now[1] }
    : soakStep(load.soak, body.value, ...now);
};

/** The state of a load; instants in milliseconds. */
export interface LoadOutlook {
  readonly load: string;
  readonly since: number;
  readonly soakedMinutes: number;
  /** Null where no wax is known, or the place was not measured with it in. */
  readonly coreCelsius: number | null;
  readonly softCelsius: number | null;
  /** When the core will be soft if the place stays as warm; null: it will not, or unknown. In the past: it is soft. */
  readonly softToTheCoreAt: number | null;
}

/** Null while nothing is in. */
export function loadOutlook(load: Load | null, place: SoakPlace): LoadOutlook | null {
  if (load === null || load.takenOutAt !== null) return null;
  const { soak } = load;
  const soft = load.softAt ?? softAt(place);
  const body =
    place.wax === null ? null : soakBody(place.shape, soakMaterialOf(place.wax), place.surroundings);
  const at =
    soak === null || soft === null || body === null || !body.ok
      ? null
      : softToTheCoreAt(soak, body.value, soft as Celsius);
  return {
    load: load.load,
    since: load.since,
    soakedMinutes: load.soakedMinutes,
    coreCelsius: coreOf(load),
    softCelsius: soft,
    softToTheCoreAt: at?.ok === true ? at.value : null,
  };
}

const isGap = (load: Load, at: number): boolean => (at - load.lastAt) / 60_000 > LONGEST_GAP_MINUTES;

/** One more temperature of the place. */
export function loadStep(load: Load, at: number, celsius: number, place: SoakPlace): Load {
  const minutes = (at - load.lastAt) / 60_000;
  if (load.takenOutAt !== null || minutes <= 0) return load;
  const counts = celsius >= place.warmFrom && !isGap(load, at);
  return {
    ...load,
    lastAt: at,
    soakedMinutes: load.soakedMinutes + (counts ? minutes : 0),
    soak: advanceSoak(load, at, celsius, place),
    softAt: softAt(place),
  };
}
