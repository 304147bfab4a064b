// A station as it crosses the wire: how it stands, the limits of its wax with their standing, its charge.

import type { Alarm } from '../../../alerts/life/alarm.ts';
import { PRIORITIES } from '../../../alerts/rules/rule-kind.ts';
import type { Standing } from '../../../alerts/standing.ts';
import type { Lab } from '../../../lab/lab.ts';
import { isHeater, type Station } from '../../../lab/station.ts';
import type { StationLive, StationView } from '../../api/schemas.ts';
import { isoOrNull } from '../instant.ts';
import type { RunningLab } from '../running-lab.ts';
import { limitsView } from './limits-view.ts';
import type { StationTrend } from './station-trend.ts';

/** After this a reading is no longer live where the lab says nothing else; the rule for a silent probe takes the same. */
const STALE_AFTER_SECONDS = 120;

const worstFirst = (one: Alarm, other: Alarm): number =>
  PRIORITIES.indexOf(one.priority) - PRIORITIES.indexOf(other.priority) || other.raisedAt - one.raisedAt;

const alarmsOf = (lab: Lab, open: readonly Alarm[], station: string): readonly string[] => {
  const probes = new Set(lab.probes.filter((probe) => probe.station === station).map((probe) => probe.id));
  return open
    .filter((alarm) =>
      alarm.subjectKind === 'station'
        ? alarm.subject === station
        : alarm.subjectKind === 'probe' && probes.has(alarm.subject),
    )
    .sort(worstFirst)
    .map((alarm) => alarm.id);
};

const live = (id: string, standing: Standing | undefined, alarms: readonly string[]): StationLive => ({
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

const fixed = (lab: Lab, station: Station): Omit<StationView, keyof StationLive | 'trend'> => {
  const charge = lab.charges.find((one) => one.station === station.id && one.endedAt === null);
  const probes = lab.probes.filter((probe) => probe.station === station.id);
  return {
    name: station.name,
    kind: station.kind,
    isHeater: isHeater(station.kind),
    ...limitsView(station, lab),
    uncertaintyCelsius: Math.max(0, ...probes.map((probe) => probe.uncertainty_celsius)),
    chargeSince: charge?.startedAt ?? null,
    chargeGrams: charge?.grams ?? null,
    probes: probes.map((probe) => probe.id),
    staleAfterSeconds: STALE_AFTER_SECONDS,
  };
};

export const stationView = async (
  running: RunningLab,
  trend: StationTrend,
  station: Station,
): Promise<StationView> => {
  const lab = running.lab();
  const standing = running.standings().find((one) => one.station === station.id);
  return {
    ...live(station.id, standing, alarmsOf(lab, running.openAlarms(), station.id)),
    ...fixed(lab, station),
    trend: [...(await trend(station))],
  };
};

export const stationViews = (running: RunningLab, trend: StationTrend): Promise<StationView[]> =>
  Promise.all(running.lab().stations.map((station) => stationView(running, trend, station)));
