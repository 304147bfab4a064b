// Resolved SenML records as readings of probes, whichever form the pack came in. The units Cel and K are
// temperatures; every other record is refused by itself and the rest of the pack goes on.

import type { Reading } from '../../lab/reading.ts';
import { failure, type Result, success } from '../../wax/result.ts';
import { ABSOLUTE_ZERO_CELSIUS, epochMillis, MILLIS_PER_SECOND } from '../../wax/units.ts';
import { probeId } from './identifier.ts';
import { AGELESS, type MeasuredAt, clockAhead, measuredAt } from './measured-at.ts';
import type { Decoded, Message } from './message.ts';
import { reject } from './reject.ts';
import type { Rejection } from './rejection.ts';
import type { ResolvedPack, ResolvedRecord } from './senml-resolve.ts';
import { temperature } from './temperature.ts';

/** Units of the SenML registry that are temperatures, as what is added for degrees Celsius. */
const CELSIUS_OFFSET: Readonly<Record<string, number>> = { Cel: 0, K: ABSOLUTE_ZERO_CELSIUS };

const celsiusOf = (record: ResolvedRecord): Result<number> => {
  if (record.unit === null) return failure('unit-missing', { name: record.name });
  const offset = Object.hasOwn(CELSIUS_OFFSET, record.unit) ? CELSIUS_OFFSET[record.unit] : undefined;
  if (offset === undefined) return failure('unit-not-temperature', { name: record.name }, record.unit);
  if (typeof record.value !== 'number') return failure('value-not-a-number', { name: record.name });
  // Kelvin to Celsius leaves binary noise behind; a billionth of a degree is no measurement.
  return success(Math.round((record.value + offset) * 1e9) / 1e9);
};

/** What stands behind the last `/` or `:`, so that a whole device name and a bare id both work. */
const probeOf = (name: string): Result<string> =>
  probeId(name.slice(Math.max(name.lastIndexOf('/'), name.lastIndexOf(':')) + 1));

const readingOf = (
  record: ResolvedRecord,
  message: Message,
): Result<{ reading: Reading; believed: MeasuredAt }> => {
  const degrees = celsiusOf(record);
  if (!degrees.ok) return degrees;
  const probe = probeOf(record.name);
  if (!probe.ok) return probe;
  const value = temperature(degrees.value);
  if (!value.ok) return value;
  if (!record.timeIsAbsolute && message.delivery === 'retained') return { ok: false, problem: AGELESS };
  const believed = measuredAt(Math.round(record.time * MILLIS_PER_SECOND), message.receivedAt);
  if (!believed.ok) return believed;
  const isCertain = record.timeIsAbsolute || message.delivery === 'live';
  return success({
    believed: believed.value,
    reading: {
      probe: probe.value,
      at: believed.value.at,
      celsius: value.value,
      quality: isCertain ? 'good' : 'uncertain-time',
    },
  });
};

export const senmlReadings = (message: Message, gateway: string, pack: ResolvedPack): Decoded => {
  const rejections: Rejection[] = pack.problems.map((problem) => reject(message, problem));
  const readings: Reading[] = [];
  let aheadMillis = 0;
  for (const record of pack.records) {
    const made = readingOf(record, message);
    if (!made.ok) rejections.push(reject(message, made.problem));
    else {
      readings.push(made.value.reading);
      aheadMillis = Math.max(aheadMillis, made.value.believed.aheadMillis);
    }
  }
  if (aheadMillis > 0) rejections.push(reject(message, clockAhead(aheadMillis)));
  return {
    entries:
      readings.length === 0
        ? []
        : [
            {
              kind: 'readings',
              receivedAt: message.receivedAt,
              gateway,
              readings: setBack(readings, aheadMillis),
            },
          ],
    rejections,
  };
};

/** A pack from a clock that is ahead is moved as a whole, so that its newest reading is of now and order stays. */
function setBack(readings: readonly Reading[], aheadMillis: number): readonly Reading[] {
  if (aheadMillis === 0) return readings;
  return readings.map((reading) => ({
    ...reading,
    at: epochMillis(reading.at - aheadMillis),
    quality: 'uncertain-time',
  }));
}
