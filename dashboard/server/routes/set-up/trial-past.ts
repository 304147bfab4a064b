// The past that a trial replays: the newest readings of the stations on trial, with what people did and what lay there.

import { entryMaker } from '../../../../alerts/watch/replay/entry-maker.ts';
import type { Entry } from '../../../../lab/entry.ts';
import { type LabOverTime, pastLab, withPastOf } from '../../../../lab/database/past-lab.ts';
import type { Reading } from '../../../../lab/reading.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY } from '../../../../wax/units.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';

export interface TrialPast {
  readonly from: EpochMillis;
  readonly to: EpochMillis;
  readonly days: number;
  readonly readings: number;
  readonly entries: readonly Entry[];
  readonly labAt: LabOverTime;
}

const MOST_DAYS = 30;
/** Two replays of so many take some seconds of processor time. */
const ENOUGH_READINGS = 400_000;
const MOST_A_DAY = 200_000;

/** The lab as it is set up now, with the charges and patterns that it had. */
const labOf = ({ lab, repository }: Pick<RunningLab, 'lab' | 'repository'>): LabOverTime =>
  withPastOf(
    lab(),
    pastLab({
      history: repository.history,
      charges: repository.allCharges(),
      patterns: repository.allPatterns(),
    }),
  );

/** Whole days back from now, until there are enough readings. */
export async function trialPast(
  running: Pick<RunningLab, 'lab' | 'now' | 'recordedEntries' | 'repository' | 'store'>,
  stations: readonly string[],
): Promise<TrialPast> {
  const probes = running.lab().probes.filter(({ station }) => station !== null && stations.includes(station));
  const gateways = new Map(probes.map(({ id, gateway }) => [id, gateway]));
  const to = running.now();
  let [from, days, count] = [to, 0, 0];
  const byDay: (readonly Reading[])[] = [];
  while (days < MOST_DAYS && count < ENOUGH_READINGS) {
    const until = from;
    from = epochMillis(until - MILLIS_PER_DAY);
    days += 1;
    for (const { id } of probes) {
      const span = { probe: id, from, to: until, limit: MOST_A_DAY };
      const readings = await running.store.raw(span);
      byDay.push(readings);
      count += readings.length;
    }
  }
  const make = entryMaker({
    gatewayOf: (probe) => gateways.get(probe) ?? '',
    recorded: running.recordedEntries(from, to),
  });
  return {
    from,
    to,
    days,
    readings: count,
    entries: count === 0 ? [] : make(byDay.flat(), to),
    labAt: labOf(running),
  };
}
