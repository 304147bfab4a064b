// A station as it crosses the wire: how it stands, the limits of its wax with their standing, its charge.

import type { Alarm } from '../../../alerts/watch/life/alarm.ts';
import { PRIORITIES } from '../../../alerts/watch/rule/rule-kind.ts';
import type { StationStatus } from '../../../alerts/watch/engine/station-status.ts';
import type { Lab } from '../../../lab/lab.ts';
import type { Station } from '../../../lab/station.ts';
import { heats } from '../../../lab/station-kinds.ts';
import type { StationLive, StationView } from '../../api/schemas.ts';
import { isoOrNull } from '../base/instant.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import { alarmStation } from '../../queries/alarm-station.ts';
import { limitsView } from './limits-view.ts';
import type { StationTrend } from './station-trend.ts';

/** Of a station that was never measured, whose usual period is unknown; the rules take the same as their least. */
const STALE_AFTER_SECONDS = 60;

const worstFirst = (one: Alarm, other: Alarm): number =>
  PRIORITIES.indexOf(one.priority) - PRIORITIES.indexOf(other.priority) || other.raisedAt - one.raisedAt;

const alarmsOf = (lab: Lab, open: readonly Alarm[], station: string): readonly string[] =>
  open
    .filter((alarm) => alarmStation(lab, alarm) === station)
    .sort(worstFirst)
    .map((alarm) => alarm.id);

const live = (id: string, standing: StationStatus | undefined, alarms: readonly string[]): StationLive => ({
  id,
  condition: standing?.condition ?? 'no-data',
  celsius: standing?.celsius ?? null,
  at: isoOrNull(standing?.at ?? null),
  celsiusPerHour: standing?.celsiusPerHour ?? null,
  minutesToCeiling: standing?.minutesToCeiling ?? null,
  doseShare: standing?.doseShare ?? null,
  doseEquivalentHours: standing?.doseEquivalentHours ?? null,
  swingCelsius: standing?.swingCelsius ?? null,
  alarms: [...alarms],
});

export const stationLives = (running: RunningLab, ids: ReadonlySet<string>): readonly StationLive[] => {
  const lab = running.lab();
  const open = running.openAlarms();
  return running
    .standings()
    .filter((standing) => ids.has(standing.station))
    .map((standing) => live(standing.station, standing, alarmsOf(lab, open, standing.station)));
};

const fixed = (
  lab: Lab,
  station: Station,
): Omit<StationView, keyof StationLive | 'trend' | 'staleAfterSeconds'> => {
  const charge = lab.charges.find((one) => one.station === station.id && one.endedAt === null);
  const probes = lab.probes.filter((probe) => probe.station === station.id);
  return {
    name: station.name,
    kind: station.kind,
    isHeater: heats(station.kind),
    ...limitsView(station, lab),
    uncertaintyCelsius: Math.max(0, ...probes.map((probe) => probe.uncertainty_celsius)),
    chargeSince: charge?.startedAt ?? null,
    chargeGrams: charge?.grams ?? null,
    probes: probes.map((probe) => probe.id),
  };
};

const viewOf = async (
  running: RunningLab,
  trend: StationTrend,
  station: Station,
  standing: StationStatus | undefined,
): Promise<StationView> => {
  const lab = running.lab();
  return {
    ...live(station.id, standing, alarmsOf(lab, running.openAlarms(), station.id)),
    ...fixed(lab, station),
    staleAfterSeconds: standing?.staleAfterSeconds ?? STALE_AFTER_SECONDS,
    trend: [...(await trend(station))],
  };
};

const standingsOf = (running: RunningLab): ReadonlyMap<string, StationStatus> =>
  new Map(running.standings().map((standing) => [standing.station, standing]));

export const stationView = (
  running: RunningLab,
  trend: StationTrend,
  station: Station,
): Promise<StationView> => viewOf(running, trend, station, standingsOf(running).get(station.id));

export const stationViews = (running: RunningLab, trend: StationTrend): Promise<StationView[]> => {
  const standings = standingsOf(running);
  return Promise.all(
    running.lab().stations.map((station) => viewOf(running, trend, station, standings.get(station.id))),
  );
};
