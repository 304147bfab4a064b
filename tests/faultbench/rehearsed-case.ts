// Small cases for tests of the bench: one pot under a thermostat, or any stations without readings.

import type { CaseReadings, CaseStation, LabelledCase, TrueFault } from '../../simulators/cases/case.ts';

/** Monday, 2026-03-02 08:00 in Berlin. */
export const START = Date.UTC(2026, 2, 2, 7);
const MINUTE = 60_000;

const columns = (
  rows: readonly (readonly [at: number, receivedAt: number, celsius: number])[],
): CaseReadings => ({
  at: Float64Array.from(rows, ([at]) => at),
  receivedAt: Float64Array.from(rows, ([, receivedAt]) => receivedAt),
  probe: new Uint16Array(rows.length),
  celsius: Float64Array.from(rows, ([, , celsius]) => celsius),
});

export const labelledOf = (more: Partial<LabelledCase>): LabelledCase => {
  const stations = more.stations ?? [];
  return {
    name: 'rehearsed',
    timeZone: 'Europe/Berlin',
    starts: START,
    ends: START + 60 * MINUTE,
    stations,
    probes: stations.flatMap(({ probes }) => probes.map(({ id }) => id)),
    readings: columns([]),
    truth: [],
    ...more,
  };
};

const POT: CaseStation = {
  id: 'pot-1',
  kind: 'melting pot',
  probes: [{ id: 'pot-1-p1', where: 'in the wax', gateway: 'gw1', resolution_kelvin: 0.1, seconds: 5 }],
  wax: 'sticky wax',
  set_celsius: 76,
  ceiling_celsius: 90,
  hours: {
    time_zone: 'Europe/Berlin',
    days: ['Mon', 'Tue', 'Wed', 'Thu', 'Fri'],
    from: '07:30',
    to: '18:00',
  },
  ready_by: null,
  control: 'on-off',
};

/** Of a pot of about a kilogram: what its heater gives and what it loses to the room. */
const HEATER_KELVIN_PER_SECOND = 0.03;
const LOSS_PER_SECOND = 1 / 4000;
const ROOM_CELSIUS = 21;
const SECONDS = 5;
const PLUGGED_IN_CELSIUS = 60;

interface PotCourse {
  /** The relay stays closed from this minute on; null for a pot in good order. */
  readonly sticksAtMinute: number | null;
  /** It is pulled out of the wall at this temperature, and plugged in again when it has cooled to 60 °C. */
  readonly unpluggedAt: number;
  /** Nothing is sent from this minute on. */
  readonly silentFromMinute?: number;
  /** The gateway's clock against the true time. */
  readonly clockAheadMillis?: number;
  readonly minutes: number;
}

/** First-order pot under a thermostat of 2 K, at work from the beginning. */
export function potCase(course: PotCourse): LabelledCase {
  const { sticksAtMinute, unpluggedAt, clockAheadMillis = 0, minutes } = course;
  const silentFrom = START + (course.silentFromMinute ?? minutes) * MINUTE;
  const rows: (readonly [number, number, number])[] = [];
  let celsius = 75;
  let isHeating = true;
  let isUnplugged = false;
  let harm: number | null = null;
  const sticksAt = sticksAtMinute === null ? Number.POSITIVE_INFINITY : START + sticksAtMinute * MINUTE;
  for (let at = START; at < START + minutes * MINUTE; at += SECONDS * 1000) {
    if (celsius > 77) isHeating = false;
    if (celsius < 75) isHeating = true;
    if (celsius >= unpluggedAt) isUnplugged = true;
    if (celsius <= PLUGGED_IN_CELSIUS) isUnplugged = false;
    const heats = !isUnplugged && (isHeating || at >= sticksAt);
    celsius +=
      SECONDS * ((heats ? HEATER_KELVIN_PER_SECOND : 0) - LOSS_PER_SECOND * (celsius - ROOM_CELSIUS));
    if (harm === null && celsius > (POT.ceiling_celsius ?? 0)) harm = at;
    if (at < silentFrom) rows.push([at + clockAheadMillis, at + 400, Math.round(celsius * 10) / 10]);
  }
  const ends = START + minutes * MINUTE;
  const fault: TrueFault = {
    station: 'pot-1',
    fault: 'stuck_on',
    begins: new Date(sticksAt === Number.POSITIVE_INFINITY ? START : sticksAt).toISOString(),
    harm: harm === null ? null : new Date(harm).toISOString(),
    ends: new Date(ends).toISOString(),
  };
  return labelledOf({
    ends,
    stations: [POT],
    readings: columns(rows),
    truth: sticksAtMinute === null ? [] : [fault],
  });
}
