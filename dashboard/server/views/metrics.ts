// What a Prometheus server reads at /metrics: names with their unit at the end, one sample for each that is known.
// A station without a live value gives no temperature: an old value is never a live one.

import { collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client';
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

export const openMetrics = (running: RunningLab, liveScreens: () => number): Metrics => {
  const register = new Registry();
  collectDefaultMetrics({ register });
  for (const name of ILL_NAMED) register.removeSingleMetric(name);
  const gauge = (
    name: string,
    help: string,
    labelNames: readonly string[],
    collect: (set: (labels: Record<string, string>, value: number) => void) => void | Promise<void>,
  ) =>
    new Gauge({
      name: `waxwarden_${name}`,
      help,
      labelNames: [...labelNames],
      registers: [register],
      async collect() {
        this.reset();
        await collect((labels, value) => this.set(labels, value));
      },
    });
  const perStation = (
    name: string,
    help: string,
    value: (status: StationStatus | undefined, station: Station) => number | null | undefined,
  ) =>
    gauge(name, help, ['station', 'kind'], (set) => {
      const statuses = new Map(running.statuses().map((one) => [one.station, one]));
      for (const station of running.lab().stations) {
        const known = value(statuses.get(station.id), station);
        if (known !== null && known !== undefined) set({ station: station.id, kind: station.kind }, known);
      }
    });

  gauge('build_info', 'The version that runs, as a label.', ['version'], (set) =>
    set({ version: running.version }, 1),
  );
  gauge('part_up', 'Whether a part of the program works (1) or not (0).', ['part'], async (set) => {
    for (const [part, { ok }] of Object.entries(await running.health())) set({ part }, ok ? 1 : 0);
  });
  perStation('station_temperature_celsius', 'Temperature of a station that has a live reading.', (now) =>
    now?.condition === 'no-data' ? null : now?.celsius,
  );
  perStation('station_reading_age_seconds', 'Age of the newest reading of a station.', (now) => {
    const at = now?.at ?? null;
    return at === null ? null : (running.now() - at) / MILLIS_PER_SECOND;
  });
  perStation(
    'station_ceiling_celsius',
    'Temperature that the wax in a heater must never exceed.',
    (_now, station) => stationLimits(station, running.lab()).ceiling?.value,
  );
  perStation(
    'charge_heat_dose_ratio',
    'Heat dose of the charge in a pot over its allowance.',
    (now) => now?.doseShare,
  );
  perStation(
    'storage_swing_celsius',
    'Peak to peak temperature of a storage place over its window.',
    (now) => now?.swingCelsius,
  );
  gauge(
    'station_condition',
    'The condition of a station: 1 for the one that holds.',
    ['station', 'condition'],
    (set) => {
      for (const { station, condition } of running.statuses())
        for (const one of STATION_CONDITIONS) set({ station, condition: one }, one === condition ? 1 : 0);
    },
  );
  gauge('alarms_open', 'Alarms that are not over.', ['priority', 'acknowledged'], (set) => {
    const counts = new Map<string, number>();
    for (const { priority, acknowledged } of running.openAlarms()) {
      const key = `${priority} ${acknowledged}`;
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
    for (const [key, count] of counts) {
      const [priority = '', acknowledged = ''] = key.split(' ');
      set({ priority, acknowledged }, count);
    }
  });
  gauge('probes_unclaimed', 'Probes that were heard and belong to no station.', [], (set) => {
    const claimed = new Set(
      running
        .lab()
        .probes.filter((one) => one.station !== null)
        .map((one) => one.id),
    );
    set({}, running.seenProbes().filter((one) => !claimed.has(one.id)).length);
  });
  gauge('live_screens', 'Screens on the live stream.', [], (set) => set({}, liveScreens()));
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
