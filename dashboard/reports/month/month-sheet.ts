// The month sheet: how storage did night by night, what was remade, how many alarms people had to answer. Pure.

import type { AlarmQuality } from '../../../alerts/watch/quality/alarm-quality.ts';
import { targetView } from '../../queries/source-view.ts';
import type { Site } from '../../../lab/lab.ts';
import type { Pattern } from '../../../lab/pattern.ts';
import { type EpochMillis, epochMillis } from '../../../wax/units.ts';
import type { MonthPlace, MonthSheet } from '../../api/month.ts';
import { heatFigures } from '../night/heat-figures.ts';
import type { StationNight } from '../night/night-sheet.ts';
import type { NightSpan } from '../night/night-span.ts';
import { judge, nightReasons } from '../night/verdict.ts';
import { heatOutsideHours, type MeasuredHeater } from './heat-outside-hours.ts';
import { iso } from '../../../wax/iso.ts';

export interface MonthInputs {
  readonly month: string;
  readonly lab: string;
  readonly timeZone: string;
  readonly now: EpochMillis;
  /** The sheet is as of then: the end of the month, or now. */
  readonly asOf: EpochMillis;
  /** End of the month. */
  readonly to: EpochMillis;
  readonly places: readonly {
    readonly station: string;
    readonly name: string;
    readonly nights: readonly { readonly span: NightSpan; readonly measured: StationNight }[];
  }[];
  readonly heaters: readonly MeasuredHeater[];
  /** The closed times of the month, oldest first. */
  readonly nights: readonly NightSpan[];
  /** What a remake cost at an instant, as the lab had set it then. */
  readonly careAt: (at: EpochMillis) => Site['patternCare'];
  /** Ended in the month. */
  readonly ended: readonly Pattern[];
  /** How good the alarms of the month were. */
  readonly quality: AlarmQuality;
  readonly placeName: (subject: string) => string;
}

const MOST_CONTRIBUTORS = 10;

const countByKey = <Key extends string>(keys: readonly Key[]): ReadonlyMap<Key, number> => {
  const counts = new Map<Key, number>();
  for (const key of keys) counts.set(key, (counts.get(key) ?? 0) + 1);
  return counts;
};

const lastPlace = (pattern: Pattern): string | null => pattern.stays.at(-1)?.station ?? null;

const placeOf = (
  { station, name, nights }: MonthInputs['places'][number],
  { ended, now }: MonthInputs,
): MonthPlace => {
  const lines = nights.map(({ span, measured }) => {
    const to = Math.min(span.opens, now) as EpochMillis;
    const figures = heatFigures({ ...measured, from: span.from, to }, measured.storageMaxAt);
    const { verdict } = judge(
      nightReasons(figures, measured.limits),
      { verdict: 'may-be-invested', code: 'kept-well', values: {} },
      () => '',
    );
    const { minCelsius, maxCelsius, meanKineticCelsius, swings, largestSwingCelsius } = figures;
    return {
      date: span.date,
      from: iso(span.from),
      opens: iso(span.opens),
      minCelsius,
      maxCelsius,
      meanKineticCelsius,
      swings,
      largestSwingCelsius,
      minutesOutOfBand: figures.minutesOutOfBand,
      gapMinutes: figures.gapMinutes,
      verdict,
    };
  });
  const fates = countByKey(
    ended
      .filter((line) => lastPlace(line) === station)
      .flatMap(({ fate }) => (fate === null ? [] : [fate.kind])),
  );
  const of = (kind: 'invested' | 'remade' | 'discarded') => fates.get(kind) ?? 0;
  return {
    station,
    name,
    storageMaxCelsius: nights.at(-1)?.measured.limits.storageMax ?? null,
    nights: lines,
    ended: of('invested') + of('remade') + of('discarded'),
    invested: of('invested'),
    remade: of('remade'),
    discarded: of('discarded'),
    swings: lines.reduce((sum, line) => sum + line.swings, 0),
    minutesOutOfBand: lines.reduce((sum, line) => sum + line.minutesOutOfBand, 0),
  };
};

/** Of the remakes each by what held when it was made; null where none had a value. */
const remakeCost = ({ ended, careAt }: MonthInputs): MonthSheet['remakeCost'] => {
  const cares = ended.flatMap(({ fate }) =>
    fate?.kind === 'remade' ? [careAt(epochMillis(Date.parse(fate.at)))] : [],
  );
  const sum = (of: 'remake_price' | 'remake_minutes'): number | null => {
    const set = cares.flatMap((care) => care?.[of] ?? []);
    return set.length === 0 ? null : set.reduce((total, value) => total + value, 0);
  };
  return { price: sum('remake_price'), minutes: sum('remake_minutes') };
};

export const monthSheet = (inputs: MonthInputs): MonthSheet => {
  const { quality, to, now } = inputs;
  const closed = inputs.nights.map(({ from, opens }) => ({ from, to: Math.min(opens, now) as EpochMillis }));
  const names = new Map(inputs.places.map(({ station, name }) => [station, name]));
  return {
    month: inputs.month,
    lab: inputs.lab,
    timeZone: inputs.timeZone,
    isOver: now >= to,
    asOf: iso(inputs.asOf),
    hoursKnown: inputs.nights.every(({ hoursKnown }) => hoursKnown),
    places: inputs.places.map((place) => placeOf(place, inputs)),
    heaters: inputs.heaters.map((heater) => heatOutsideHours(heater, closed)),
    remakeCost: remakeCost(inputs),
    remakes: inputs.ended.flatMap((pattern) => {
      const { fate } = pattern;
      if (fate?.kind !== 'remade') return [];
      const place = lastPlace(pattern);
      return [
        {
          id: pattern.id,
          caseReference: pattern.caseReference,
          stationName: place === null ? null : (names.get(place) ?? place),
          at: fate.at,
          by: fate.by,
          reason: fate.reason,
        },
      ];
    }),
    alarms: {
      announced: quality.announced,
      isBasis: quality.isBasis,
      figures: quality.figures.map((figure) => ({ ...figure, ...targetView(figure.name) })),
      most: quality.contributors
        // One that was raised in an earlier month and is still on.
        .filter(({ count }) => count > 0)
        .slice(0, MOST_CONTRIBUTORS)
        .map(({ rule, subject, count }) => ({ rule, placeName: inputs.placeName(subject), count })),
    },
  };
};
