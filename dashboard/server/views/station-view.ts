// A station as it crosses the wire: its state, the limits of its wax with their status, its charge.

import type { LoadOutlook } from '../../../alerts/watch/measures/load.ts';
import { waxClassAt } from '../../../lab/limits.ts';
import { weakestStanding } from '../../../wax/classes/wax-value.ts';
import { flowBand } from '../../../wax/heat/flow.ts';
import {
  ageingRatio,
  doseKinetics,
  evaporationKinetics,
  evaporationRatio,
} from '../../../wax/heat/heat-dose.ts';
import type { Celsius } from '../../../wax/units.ts';
import type { WaxClass } from '../../../wax/wax-class.ts';
import type { Alarm } from '../../../alerts/watch/life/alarm.ts';
import { PRIORITIES } from '../../../alerts/watch/rule/priority.ts';
import type { StationStatus } from '../../../alerts/watch/engine/station-status.ts';
import type { Lab } from '../../../lab/lab.ts';
import type { Station } from '../../../lab/station.ts';
import type { Intent } from '../../../lab/intent.ts';
import { heats, holdsMeltedWax } from '../../../lab/station-kinds.ts';
import type { IntentView, StationLive, StationView } from '../../api/schemas.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import { alarmStation } from '../../queries/alarm-station.ts';
import { limitsView } from './limits-view.ts';
import type { StationTrend } from './station-trend.ts';
import { iso, isoOrNull } from '../../../wax/iso.ts';

/** Of a station that was never measured, whose usual period is unknown; the rules take the same as their least. */
const STALE_AFTER_SECONDS = 60;

const worstFirst = (a: Alarm, b: Alarm): number =>
  PRIORITIES.indexOf(a.priority) - PRIORITIES.indexOf(b.priority) || b.raisedAt - a.raisedAt;

const alarmsOf = (lab: Lab, open: readonly Alarm[], station: string): readonly string[] =>
  open
    .filter((alarm) => alarmStation(lab, alarm) === station)
    .sort(worstFirst)
    .map((alarm) => alarm.id);

const intentView = ({ kind, by, since, until }: Intent): IntentView => ({
  kind,
  by,
  since: iso(since),
  until: iso(until),
});

const loadView = ({ since, softToTheCoreAt, ...load }: LoadOutlook): NonNullable<StationView['load']> => ({
  ...load,
  since: iso(since),
  softToTheCoreAt: isoOrNull(softToTheCoreAt),
});

/** How soft the wax is at this temperature, where the limits of its class determine it; melted wax has no flow. */
const flowView = (wax: WaxClass | null, celsius: number | null): NonNullable<StationView['flow']> | null => {
  if (wax === null || celsius === null || celsius >= wax.melting.low.value) return null;
  const { atLeast, atMost } = flowBand(wax, celsius as Celsius);
  const stated = [atLeast, atMost].filter((value) => value !== null);
  if (stated.length === 0) return null;
  return {
    atLeastPercent: atLeast?.value ?? null,
    atMostPercent: atMost?.value ?? null,
    standing: weakestStanding(...stated),
  };
};

/** How fast melted wax ages and evaporates at this temperature. */
const ageingView = (
  station: Station | undefined,
  wax: WaxClass | null,
  celsius: number | null,
): NonNullable<StationView['ageing']> | null => {
  if (station === undefined || !holdsMeltedWax(station.kind)) return null;
  if (wax === null || celsius === null || celsius < wax.melting.low.value) return null;
  const { activationEnergy, evaporationEnthalpy, reference } = wax.kinetics;
  return {
    ageingTimes: ageingRatio(celsius as Celsius, doseKinetics(wax)),
    evaporationTimes: evaporationRatio(celsius as Celsius, evaporationKinetics(wax)),
    referenceCelsius: reference.value,
    standing: weakestStanding(activationEnergy, evaporationEnthalpy, reference),
  };
};

const live = (
  id: string,
  lab: Lab,
  status: StationStatus | undefined,
  alarms: readonly string[],
): StationLive => {
  const station = lab.stations.find((each) => each.id === id);
  const wax = station === undefined ? null : waxClassAt(station, lab);
  return {
    id,
    condition: status?.condition ?? 'no-data',
    celsius: status?.celsius ?? null,
    at: isoOrNull(status?.at ?? null),
    celsiusPerHour: status?.celsiusPerHour ?? null,
    minutesToCeiling: status?.minutesToCeiling ?? null,
    doseShare: status?.doseShare ?? null,
    doseEquivalentHours: status?.doseEquivalentHours ?? null,
    swingCelsius: status?.swingCelsius ?? null,
    load: status?.load === undefined ? null : loadView(status.load),
    flow: flowView(wax, status?.celsius ?? null),
    ageing: ageingView(station, wax, status?.celsius ?? null),
    alarms: [...alarms],
    intents: (status?.intents ?? []).map(intentView),
    endedIntents: (status?.endedIntents ?? []).map(intentView),
  };
};

/** What the live stream sends of a station; null when the lab has it no longer. */
export const stationLive = (running: RunningLab, status: StationStatus): StationLive | null => {
  const lab = running.lab();
  if (!lab.stations.some(({ id }) => id === status.station)) return null;
  return live(status.station, lab, status, alarmsOf(lab, running.openAlarms(), status.station));
};

const settingsView = (
  lab: Lab,
  station: Station,
): Omit<StationView, keyof StationLive | 'trend' | 'staleAfterSeconds'> => {
  const charge = lab.charges.find(({ station: id, endedAt }) => id === station.id && endedAt === null);
  const probes = lab.probes.filter((probe) => probe.station === station.id);
  return {
    name: station.name,
    kind: station.kind,
    isHeater: heats(station.kind),
    ...limitsView(station, lab),
    uncertaintyCelsius: Math.max(0, ...probes.map((probe) => probe.uncertainty_celsius)),
    chargeSince: charge?.startedAt ?? null,
    chargeGrams: charge?.grams ?? null,
    readyBy: station.ready_by ?? null,
    probes: probes.map((probe) => probe.id),
  };
};

const viewOf = async (
  running: RunningLab,
  trend: StationTrend,
  station: Station,
  status: StationStatus | undefined,
): Promise<StationView> => {
  const lab = running.lab();
  return {
    ...live(station.id, lab, status, alarmsOf(lab, running.openAlarms(), station.id)),
    ...settingsView(lab, station),
    staleAfterSeconds: status?.staleAfterSeconds ?? STALE_AFTER_SECONDS,
    trend: [...(await trend(station))],
  };
};

const statusesOf = (running: RunningLab): ReadonlyMap<string, StationStatus> =>
  new Map(running.statuses().map((status) => [status.station, status]));

export const stationView = (
  running: RunningLab,
  trend: StationTrend,
  station: Station,
): Promise<StationView> => viewOf(running, trend, station, statusesOf(running).get(station.id));

export const stationViews = (running: RunningLab, trend: StationTrend): Promise<StationView[]> => {
  const statuses = statusesOf(running);
  return Promise.all(
    running.lab().stations.map((station) => viewOf(running, trend, station, statuses.get(station.id))),
  );
};
