// What /metrics answers: names with their unit at the end, one sample for each that is known.
// A station without a live value gives no temperature: an old value is never a live one.

import { collectDefaultMetrics, Counter, Gauge, Histogram, Registry } from 'prom-client';
import { CHANNELS } from '../../../alerts/notices/outbox/outbox-row.ts';
import { STATION_CONDITIONS, type StationStatus } from '../../../alerts/watch/engine/station-status.ts';
import { stationLimits } from '../../../lab/limits.ts';
import type { Station } from '../../../lab/station.ts';
import { MILLIS_PER_SECOND } from '../../../wax/units.ts';
import type { RunningLab } from '../../queries/running-lab.ts';

/** Of the library's own figures those whose names break the naming rules (`_total` on what is no counter). */
const ILL_NAMED = [
  'nodejs_active_handles_total',
  'nodejs_active_requests_total',
  'nodejs_active_resources_total',
];
/** Seconds; an answer slower than a second is one too many. */
const DURATION_BUCKETS = [0.005, 0.02, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 10];

export interface Metrics {
  readonly contentType: string;
  readonly text: () => Promise<string>;
  readonly answered: (method: string, route: string, status: number, seconds: number) => void;
}

type SetSample = (labels: Record<string, string>, value: number) => void;

interface LabGauge {
  readonly name: string;
  readonly help: string;
  readonly labels: readonly string[];
  readonly collect: (running: RunningLab, set: SetSample) => void | Promise<void>;
}

const stationGauge = (
  name: string,
  help: string,
  sampleOf: (
    status: StationStatus | undefined,
    station: Station,
    running: RunningLab,
  ) => number | null | undefined,
): LabGauge => ({
  name,
  help,
  labels: ['station', 'kind'],
  collect: (running, set) => {
    const statuses = new Map(running.statuses().map((status) => [status.station, status]));
    for (const station of running.lab().stations) {
      const value = sampleOf(statuses.get(station.id), station, running);
      if (value !== null && value !== undefined) set({ station: station.id, kind: station.kind }, value);
    }
  },
});

const STATION_GAUGES: readonly LabGauge[] = [
  stationGauge(
    'station_temperature_celsius',
    'Temperature of a station that has a live reading.',
    (status) => (status?.condition === 'no-data' ? null : status?.celsius),
  ),
  stationGauge(
    'station_reading_age_seconds',
    'Age of the newest reading of a station.',
    (status, _station, running) => {
      const at = status?.at ?? null;
      return at === null ? null : (running.now() - at) / MILLIS_PER_SECOND;
    },
  ),
  stationGauge(
    'station_ceiling_celsius',
    'Temperature that the wax in a heater must never exceed.',
    (_status, station, running) => stationLimits(station, running.lab()).ceiling?.value,
  ),
  stationGauge(
    'charge_heat_dose_ratio',
    'Heat dose of the charge in a pot over its allowance.',
    (status) => status?.doseShare,
  ),
  stationGauge(
    'storage_swing_celsius',
    'Peak to peak temperature of a storage place over its window.',
    (status) => status?.swingCelsius,
  ),
  {
    name: 'station_condition',
    help: 'The condition of a station: 1 for the one that holds.',
    labels: ['station', 'condition'],
    collect: (running, set) => {
      for (const { station, condition: present } of running.statuses())
        for (const condition of STATION_CONDITIONS)
          set({ station, condition }, condition === present ? 1 : 0);
    },
  },
];

const LAB_GAUGES: readonly LabGauge[] = [
  {
    name: 'build_info',
    help: 'The version that runs, as a label.',
    labels: ['version'],
    collect: (running, set) => set({ version: running.version }, 1),
  },
  {
    name: 'part_up',
    help: 'Whether a part of the program works (1) or not (0).',
    labels: ['part'],
    collect: async (running, set) => {
      for (const [part, { ok }] of Object.entries(await running.health())) set({ part }, ok ? 1 : 0);
    },
  },
  {
    name: 'alarms_open',
    help: 'Alarms that are not over.',
    labels: ['priority', 'acknowledged'],
    collect: (running, set) => {
      const counts = new Map<string, number>();
      for (const { priority, acknowledged } of running.openAlarms()) {
        const key = `${priority} ${acknowledged}`;
        counts.set(key, (counts.get(key) ?? 0) + 1);
      }
      for (const [key, count] of counts) {
        const [priority = '', acknowledged = ''] = key.split(' ');
        set({ priority, acknowledged }, count);
      }
    },
  },
  {
    name: 'probes_unclaimed',
    help: 'Probes that were seen and belong to no station.',
    labels: [],
    collect: (running, set) => {
      const claimed = new Set(
        running.lab().probes.flatMap(({ id, station }) => (station === null ? [] : [id])),
      );
      set({}, running.seenProbes().filter(({ id }) => !claimed.has(id)).length);
    },
  },
];

/** What waits to be sent, and for how long, per channel; a channel with nothing waiting shows zero. */
const NOTICE_GAUGES: readonly LabGauge[] = [
  {
    name: 'notices_waiting',
    help: 'Notices that wait to be sent or to be tried again.',
    labels: ['channel'],
    collect: ({ notices }, set) => {
      const queues = new Map(notices.outbox.queueAges().map((queue) => [queue.channel, queue]));
      for (const channel of CHANNELS) set({ channel }, queues.get(channel)?.count ?? 0);
    },
  },
  {
    name: 'notice_queue_age_seconds',
    help: 'Age of the oldest notice that waits.',
    labels: ['channel'],
    collect: ({ notices, now }, set) => {
      const queues = new Map(notices.outbox.queueAges().map((queue) => [queue.channel, queue]));
      for (const channel of CHANNELS) {
        const since = queues.get(channel)?.since;
        set({ channel }, since === undefined ? 0 : (now() - since) / MILLIS_PER_SECOND);
      }
    },
  },
  {
    name: 'last_copy_age_seconds',
    help: 'Age of the last good copy of the data; absent when there was none.',
    labels: [],
    collect: ({ lastCopyAt, now }, set) => {
      const at = lastCopyAt?.() ?? null;
      if (at !== null) set({}, (now() - at) / MILLIS_PER_SECOND);
    },
  },
  {
    name: 'certificate_left_seconds',
    help: 'Time until the certificate ends that the server shows; absent without HTTPS.',
    labels: [],
    collect: ({ certificateEndsAt, now }, set) => {
      const endsAt = certificateEndsAt?.() ?? null;
      if (endsAt !== null) set({}, (endsAt - now()) / MILLIS_PER_SECOND);
    },
  },
];

const addIntakeCounter = (register: Registry, { intakeCounts }: RunningLab): void => {
  if (intakeCounts === undefined) return;
  new Counter({
    name: 'waxwarden_intake_messages_total',
    help: 'Messages since the start: received, acknowledged once on disk, and rejected into quarantine.',
    labelNames: ['outcome'],
    registers: [register],
    collect() {
      this.reset();
      const { received, acknowledged, rejected } = intakeCounts();
      this.inc({ outcome: 'received' }, received);
      this.inc({ outcome: 'acknowledged' }, acknowledged);
      this.inc({ outcome: 'rejected' }, rejected);
    },
  });
};

const addGauge = (
  register: Registry,
  { name, help, labels }: Omit<LabGauge, 'collect'>,
  collect: (set: SetSample) => void | Promise<void>,
): void => {
  new Gauge({
    name: `waxwarden_${name}`,
    help,
    labelNames: [...labels],
    registers: [register],
    async collect() {
      this.reset();
      await collect((values, value) => this.set(values, value));
    },
  });
};

export const openMetrics = (running: RunningLab, liveScreens: () => number): Metrics => {
  const register = new Registry();
  collectDefaultMetrics({ register });
  for (const name of ILL_NAMED) register.removeSingleMetric(name);
  for (const gauge of [...LAB_GAUGES, ...STATION_GAUGES, ...NOTICE_GAUGES])
    addGauge(register, gauge, (set) => gauge.collect(running, set));
  addIntakeCounter(register, running);
  addGauge(register, { name: 'live_screens', help: 'Screens on the live stream.', labels: [] }, (set) =>
    set({}, liveScreens()),
  );
  const duration = new Histogram({
    name: 'waxwarden_http_request_duration_seconds',
    help: 'Time until a request was answered.',
    labelNames: ['method', 'route', 'status'],
    buckets: DURATION_BUCKETS,
    registers: [register],
  });
  return {
    contentType: register.contentType,
    text: () => register.metrics(),
    answered: (method, route, status, seconds) =>
      duration.observe({ method, route, status: String(status) }, seconds),
  };
};
