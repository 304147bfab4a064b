// A heater run alone before it gets its place: how fast it warms, how high it turns, how it cycles. What is required
// of it (ceiling, hour of readiness) is set by this, as a lab sets it by what the heater does on its first day.

import { QUIET, type StationModel } from '../physics/station-model.ts';

const STEP = 2;
const ROOM_CELSIUS = 19;

export interface TrialRun {
  /** Until the last of it is above; infinite where it never gets there. */
  readonly moltenSeconds: number;
  readonly setSeconds: number;
  /** Highest during the first rise, and highest, lowest and mean while it cycles. */
  readonly firstPeak: number;
  readonly peak: number;
  readonly valley: number;
  readonly mean: number;
  /** From peak to peak; 0 where nothing cycles. */
  readonly periodSeconds: number;
  /** Where full power ends. */
  readonly fullPowerCelsius: number;
}

export const trialRun = (
  build: (startCelsius: number) => StationModel,
  spots: { readonly probe: string; readonly hottest: string; readonly coldest: string },
  liquidus: number,
  nearSet: number,
): TrialRun => {
  const model = build(ROOM_CELSIUS);
  const read = (spot: string) => model.spots[spot]?.() ?? Number.NaN;
  const input = { ...QUIET, on: true, roomCelsius: ROOM_CELSIUS };
  let moltenSeconds = Number.POSITIVE_INFINITY;
  let setSeconds = Number.POSITIVE_INFINITY;
  let firstPeak = Number.NEGATIVE_INFINITY;
  let peak = Number.NEGATIVE_INFINITY;
  let valley = Number.POSITIVE_INFINITY;
  let sum = 0;
  let count = 0;
  const switchedAt: number[] = [];
  let switchings = 0;
  const limit = 5 * 3600;
  let settled = Number.POSITIVE_INFINITY;
  for (let at = 0; at < limit && at < settled + 5400; at += STEP) {
    model.advance(input, STEP);
    const hottest = read(spots.hottest);
    if (moltenSeconds > at && read(spots.coldest) > liquidus) moltenSeconds = at;
    if (setSeconds > at && read(spots.probe) >= nearSet) {
      setSeconds = at;
      settled = at + 1800;
    }
    if (at < settled) firstPeak = Math.max(firstPeak, hottest);
    else {
      peak = Math.max(peak, hottest);
      valley = Math.min(valley, read(spots.coldest));
      sum += read(spots.probe);
      count += 1;
      const now = read('switchings');
      if (now > switchings && (now & 1) === 1) switchedAt.push(at);
      switchings = now;
    }
  }
  const [first, last] = [switchedAt[0], switchedAt.at(-1)];
  const cycles = switchedAt.length - 1;
  const full = build(ROOM_CELSIUS);
  for (let at = 0; at < 10 * 3600; at += 10) full.advance({ ...input, stuckOn: true }, 5);
  return {
    moltenSeconds,
    setSeconds,
    firstPeak,
    peak,
    valley,
    mean: count > 0 ? sum / count : Number.NaN,
    periodSeconds: cycles > 0 && first !== undefined && last !== undefined ? (last - first) / cycles : 0,
    fullPowerCelsius: full.spots[spots.hottest]?.() ?? Number.NaN,
  };
};
