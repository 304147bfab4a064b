// What a schema cannot check of a described lab: names that must be known, ids that must differ, values that contradict
// each other or the science. Each contradiction names the place, by fields of the lab, and what is wrong there.

import { checkedWaxClass } from '../../wax/wax-class.ts';
import { WAX_CLASS_IDS } from '../../wax/classes/wax-class-id.ts';
import type { ProblemCode, ProblemValues } from '../../wax/result.ts';
import { calibrationCurve } from '../calibration-entry.ts';
import { sensorFaults } from '../sensor.ts';
import type { Lab } from '../lab.ts';
import { ownFigureProblems, type RulesByPlace } from './own-figure-checks.ts';
import { WEEKDAYS } from '../lab.ts';
import { type Contradiction, findNearestName, type Path } from './lab-file-problem.ts';
import { highestOwnCeiling, stationLimits } from '../limits.ts';
import { notificationPlanContradictions } from './notification-plan-checks.ts';
import type { Station } from '../station.ts';
import { heats, holdsMeltedWax, isThermostatic, STATION_KIND_FACTS } from '../station-kinds.ts';

/** What there is beside the lab itself; what a file holds of a part that is absent here is not checked. */
export interface LabFileContext {
  readonly rules?: RulesByPlace;
  /** Codes of the languages that there are words for. */
  readonly languages?: readonly string[];
}

export function labFileContradictions(
  lab: Lab,
  { rules, languages }: LabFileContext = {},
): readonly Contradiction[] {
  return [
    ...hours(lab),
    ...repeatedIds('stations', lab.stations),
    ...repeatedIds('probes', lab.probes),
    ...repeatedIds('people', lab.people),
    ...missingStations(lab),
    ...(languages === undefined ? [] : missingLanguages(lab, languages)),
    ...calibrations(lab),
    ...retiredAtStation(lab),
    ...sensors(lab),
    ...notificationPlan(lab),
    ...overrides(lab),
    ...(rules === undefined ? [] : ownFigureProblems(lab.site.rules, rules, 'lab', ['site', 'rules'])),
    ...lab.stations.flatMap((station, index) => [
      ...temperatures(station, lab, ['stations', index]),
      ...(rules === undefined
        ? []
        : ownFigureProblems(station.rules, rules, station.kind, ['stations', index, 'rules'])),
    ]),
  ];
}

const notificationPlan = (lab: Lab): readonly Contradiction[] =>
  lab.notificationPlan === undefined
    ? []
    : notificationPlanContradictions(lab.notificationPlan, lab).map(({ path, ...problem }) => ({
        path: ['notificationPlan', ...path],
        ...problem,
      }));

function hours({ site }: Lab): readonly Contradiction[] {
  return WEEKDAYS.flatMap((weekday) => {
    let until = '';
    return site.workingHours[weekday].flatMap(([opens, closes], index): readonly Contradiction[] => {
      const path = ['site', 'workingHours', weekday, index];
      if (opens >= closes) return [{ path, code: 'hours-reversed', values: { opens, closes } }];
      const before = until;
      until = closes;
      return opens < before ? [{ path, code: 'hours-overlap', values: { opens, before } }] : [];
    });
  });
}

function repeatedIds(list: 'stations' | 'probes' | 'people', records: readonly { readonly id: string }[]) {
  const first = new Map<string, number>();
  return records.flatMap(({ id }, index): readonly Contradiction[] => {
    if (first.has(id)) return [{ path: [list, index, 'id'], code: 'id-repeated', values: { id } }];
    first.set(id, index);
    return [];
  });
}

const missingLanguages = ({ people }: Lab, languages: readonly string[]): readonly Contradiction[] =>
  people.flatMap(({ language }, index) =>
    languages.includes(language)
      ? []
      : [
          {
            path: ['people', index, 'language'],
            code: 'field-not-listed',
            values: { allowed: languages.join(', ') },
          },
        ],
  );

/** The name that was meant is looked for among all others, so not for every probe of a file that is wrong throughout. */
const MOST_MISSING_STATIONS = 100;

function missingStations({ stations, probes }: Lab): readonly Contradiction[] {
  const ids = stations.map(({ id }) => id);
  const described = new Set(ids);
  return probes
    .flatMap(({ station }, index) => (station === null || described.has(station) ? [] : [{ station, index }]))
    .slice(0, MOST_MISSING_STATIONS)
    .map(({ station, index }) => ({
      path: ['probes', index, 'station'],
      code: 'station-not-described',
      values: { id: station, near: findNearestName(station, ids) },
    }));
}

function calibrations({ probes }: Lab): readonly Contradiction[] {
  return probes.flatMap(({ calibration, correction_celsius }, index): readonly Contradiction[] => {
    if (calibration === undefined) return [];
    const path = ['probes', index];
    if (correction_celsius !== 0) return [{ path: [...path, 'correction_celsius'], code: 'corrected-twice' }];
    const curve = calibrationCurve(calibration);
    return curve.ok ? [] : [{ path: [...path, 'calibration', 'points'], ...reasonOf(curve.problem) }];
  });
}

const retiredAtStation = ({ probes }: Lab): readonly Contradiction[] =>
  probes.flatMap(({ id, station, retiredOn }, index) =>
    station === null || retiredOn === undefined
      ? []
      : [{ path: ['probes', index, 'retiredOn'], code: 'retired-at-station', values: { id, station } }],
  );

function sensors({ probes }: Lab): readonly Contradiction[] {
  const ids = probes.map(({ id }) => id);
  return probes.flatMap(({ id, sensor }, index): readonly Contradiction[] => {
    if (sensor === undefined) return [];
    const path = ['probes', index, 'sensor'];
    const coldJunction = sensor.cold_junction_probe;
    const isUnknown = coldJunction !== undefined && (coldJunction === id || !ids.includes(coldJunction));
    return [
      ...sensorFaults(sensor).map(({ field, code }) => ({
        path: [...path, field],
        code,
        values: { name: field, kind: sensor.kind },
      })),
      ...(isUnknown
        ? [
            {
              path: [...path, 'cold_junction_probe'],
              code: 'probe-not-described' as const,
              values: { id: coldJunction },
            },
          ]
        : []),
    ];
  });
}

const reasonOf = ({ code, values }: Omit<Contradiction, 'path'>): Omit<Contradiction, 'path'> => ({
  code,
  ...(values !== undefined && { values }),
});

function overrides({ waxOverrides }: Lab): readonly Contradiction[] {
  return WAX_CLASS_IDS.flatMap((id) => {
    const values = waxOverrides[id];
    const checked = values === undefined ? null : checkedWaxClass(id, values);
    return checked === null || checked.ok
      ? []
      : [{ path: ['waxOverrides', id, ...pathOfName(checked.problem)], ...reasonOf(checked.problem) }];
  });
}

const pathOfName = ({ values }: Omit<Contradiction, 'path'>): Path =>
  typeof values?.name === 'string' ? [values.name] : [];

function temperatures(station: Station, lab: Lab, path: Path): readonly Contradiction[] {
  const { window_celsius: window, ceiling_celsius: ceiling, kind } = station;
  const found: Contradiction[] = [];
  const at = (field: string, code: ProblemCode, values: ProblemValues): void => {
    found.push({ path: [...path, field], code, values });
  };
  if (station.charge_grams !== undefined && !holdsMeltedWax(kind))
    at('charge_grams', 'charge-without-pot', { kind });
  if (station.heater_watts !== undefined && !heats(kind))
    at('heater_watts', 'watts-without-heater', { kind });
  if (station.ready_by !== undefined && !isThermostatic(kind))
    at('ready_by', 'ready-without-heater', { kind });
  if (ceiling !== undefined && STATION_KIND_FACTS[kind].ceiling === null)
    at('ceiling_celsius', 'ceiling-without-heater', { kind });
  if (window !== undefined && window[0] >= window[1])
    at('window_celsius', 'window-reversed', { low_celsius: window[0], high_celsius: window[1] });
  const limits = stationLimits(station, lab);
  const { value: highest } = limits.ceiling ?? {};
  const { value: windowHigh } = limits.windowHigh ?? {};
  if (highest !== undefined && windowHigh !== undefined && windowHigh > highest)
    at(window === undefined ? 'ceiling_celsius' : 'window_celsius', 'window-above-ceiling', {
      high_celsius: windowHigh,
      ceiling_celsius: highest,
    });
  const most = highestOwnCeiling(station, lab);
  if (ceiling !== undefined && most !== null && ceiling > most)
    at('ceiling_celsius', 'ceiling-above-wax', {
      ceiling_celsius: ceiling,
      most_celsius: most,
      wax: station.wax ?? '',
    });
  return found;
}
