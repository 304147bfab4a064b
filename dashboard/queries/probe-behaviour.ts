// How a probe behaved in the last day: by itself, beside its twins at the station, and against a day on which it was
// known to be right.

import { median } from '../../wax/numbers/median.ts';
import { Temporal } from 'temporal-polyfill';
import type { SeriesBucket } from '../../collector/store/store.ts';
import type { Probe } from '../../lab/lab.ts';
import { type ProbeHealth, probeHealth } from '../../wax/probes/probe-health.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY } from '../../wax/units.ts';
import type { RunningLab } from './running-lab.ts';

/** A day of one reading a second, and a margin. */
const MOST_READINGS = 100_000;
/** Buckets of five minutes: probes that measure at different instants can be compared. */
const BUCKETS = 288;
/** An hour that both measured; less shows nothing. */
const FEWEST_BUCKETS = 12;

export interface Twin {
  readonly probe: string;
  /** Mean of own minus twin. */
  readonly meanDifference_celsius: number;
  readonly greatestDifference_celsius: number;
  /** What both uncertainties allow (k = 2). */
  readonly allowed_celsius: number;
}

export interface Drift {
  /** `YYYY-MM-DD` in the lab's zone. */
  readonly day: string;
  /** Median of the day in question and of the last day: shows drift only where the station does the same on both. */
  readonly then_celsius: number | null;
  readonly now_celsius: number | null;
  /** By how much the difference from each twin changed since: the station cancels out. */
  readonly fromTwins: readonly { readonly probe: string; readonly change_celsius: number }[];
}

export interface ProbeBehaviour {
  readonly from: EpochMillis;
  readonly to: EpochMillis;
  readonly health: ProbeHealth;
  /** There are more readings than are looked at. */
  readonly isCutOff: boolean;
  readonly twins: readonly Twin[];
  /** Null where no day is given and no certificate names one. */
  readonly drift: Drift | null;
}

interface Span {
  readonly from: EpochMillis;
  readonly to: EpochMillis;
}

const middleOf = (buckets: readonly SeriesBucket[]): number | null =>
  buckets.length === 0 ? null : median(buckets.map((bucket) => bucket.mean));

/** Own minus twin, bucket by bucket. */
const differences = (
  own: readonly SeriesBucket[],
  twin: readonly SeriesBucket[],
): readonly number[] | null => {
  const means = new Map(twin.map(({ at, mean }) => [at, mean]));
  const found = own.flatMap(({ at, mean }) => {
    const twinMean = means.get(at);
    return twinMean === undefined ? [] : [mean - twinMean];
  });
  return found.length < FEWEST_BUCKETS ? null : found;
};

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

const dayOf = (running: RunningLab, date: string): Span => {
  const day = Temporal.PlainDate.from(date);
  const { timeZone } = running.lab().site;
  const start = (of: Temporal.PlainDate) => epochMillis(of.toZonedDateTime(timeZone).epochMilliseconds);
  return { from: start(day), to: start(day.add({ days: 1 })) };
};

/** `day` is the reference day, `YYYY-MM-DD`; null: that of the newest calibration. */
export async function probeBehaviour(
  running: RunningLab,
  id: string,
  day: string | null,
): Promise<ProbeBehaviour> {
  const to = running.now();
  const lastDay = { from: epochMillis(to - MILLIS_PER_DAY), to };
  const described = running.lab().probes.find((probe) => probe.id === id);
  const twins = described === undefined || described.station === null ? [] : twinsOf(running, described);
  const buckets = (probe: string, span: Span) => running.store.buckets({ probe, ...span, points: BUCKETS });
  const raw = await running.store.raw({ probe: id, ...lastDay, limit: MOST_READINGS });
  const own = await buckets(id, lastDay);
  const compared = await Promise.all(
    twins.map(async (twin) => ({ twin, found: differences(own, await buckets(twin.id, lastDay)) })),
  );
  const reference = day ?? described?.calibration?.day ?? null;
  const drift = async (date: string): Promise<Drift> => {
    const span = dayOf(running, date);
    const then = await buckets(id, span);
    const fromTwins = await Promise.all(
      compared.map(async ({ twin, found }) => {
        const before = differences(then, await buckets(twin.id, span));
        return found === null || before === null
          ? []
          : [{ probe: twin.id, change_celsius: mean(found) - mean(before) }];
      }),
    );
    return {
      day: date,
      then_celsius: middleOf(then),
      now_celsius: middleOf(own),
      fromTwins: fromTwins.flat(),
    };
  };
  return {
    ...lastDay,
    health: probeHealth(raw),
    isCutOff: raw.length === MOST_READINGS,
    twins: compared.flatMap(({ twin, found }) =>
      found === null ? [] : [compare(twin, described?.uncertainty_celsius ?? 0, found)],
    ),
    drift: reference === null ? null : await drift(reference),
  };
}

const twinsOf = (running: RunningLab, { id, station }: Probe): readonly Probe[] =>
  running.lab().probes.filter((probe) => probe.station === station && probe.id !== id);

const compare = (twin: Probe, uncertainty: number, found: readonly number[]): Twin => ({
  probe: twin.id,
  meanDifference_celsius: mean(found),
  greatestDifference_celsius: found.reduce(
    (most, value) => (Math.abs(value) > Math.abs(most) ? value : most),
    0,
  ),
  allowed_celsius: Math.hypot(uncertainty, twin.uncertainty_celsius),
});
