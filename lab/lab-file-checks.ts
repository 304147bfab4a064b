// What a schema cannot say of a lab file: names that must be known, ids that must differ, values that contradict
// each other or the science. Every finding names the place and what to do.

import { type Problem, problemLine } from '../wax/result.ts';
import { checkedWaxClass, waxValueNames } from '../wax/wax-class.ts';
import { WAX_CLASS_IDS } from '../wax/classes/wax-class-id.ts';
import { calibrationCurve } from './calibration-entry.ts';
import type { Lab } from './lab.ts';
import { WEEKDAYS } from './lab.ts';
import { didYouMean, type Path } from './lab-file-problem.ts';
import { stationLimits } from './limits.ts';
import type { Station } from './station.ts';
import { holdsMeltedWax, STATION_KIND_FACTS } from './station-kinds.ts';
import { notificationPlanContradictions } from './notification-plan-checks.ts';

export interface Contradiction {
  readonly path: Path;
  readonly message: string;
  /** What the science refuses, where it does. */
  readonly problem?: Problem;
}

/** What the caller knows of each rule by its name; what a station says of rules is not checked without it. */
export type KnownRules = Readonly<
  Record<
    string,
    {
      readonly parameters: Readonly<Record<string, { readonly low: number; readonly high: number }>>;
      readonly mayBeSwitchedOff: boolean;
    }
  >
>;

export function labFileContradictions(lab: Lab, rules?: KnownRules): readonly Contradiction[] {
  return [
    ...hours(lab),
    ...doubled('stations', lab.stations),
    ...doubled('probes', lab.probes),
    ...doubled('people', lab.people),
    ...unknownStations(lab),
    ...calibrations(lab),
    ...notificationPlan(lab),
    ...overrides(lab),
    ...lab.stations.flatMap((station, index) => [
      ...temperatures(station, lab, ['stations', index]),
      ...(rules === undefined ? [] : ownRules(station, rules, ['stations', index, 'rules'])),
    ]),
  ];
}

const notificationPlan = (lab: Lab): readonly Contradiction[] =>
  lab.notificationPlan === undefined
    ? []
    : notificationPlanContradictions(lab.notificationPlan, lab).map(({ path, message }) => ({
        path: ['notificationPlan', ...path],
        message,
      }));

function hours({ site }: Lab): readonly Contradiction[] {
  return WEEKDAYS.flatMap((weekday) => {
    let until = '';
    return site.workingHours[weekday].flatMap(([opens, closes], index): readonly Contradiction[] => {
      const path = ['site', 'workingHours', weekday, index];
      if (opens >= closes)
        return [
          {
            path,
            message: `${opens} is not before ${closes}; write work through midnight as two spans, until 24:00 and from 00:00 of the next day`,
          },
        ];
      const before = until;
      until = closes;
      return opens < before
        ? [{ path, message: `begins at ${opens}, before the hours above it end at ${before}` }]
        : [];
    });
  });
}

function doubled(list: 'stations' | 'probes' | 'people', things: readonly { readonly id: string }[]) {
  const first = new Map<string, number>();
  return things.flatMap(({ id }, index): readonly Contradiction[] => {
    const before = first.get(id);
    if (before === undefined) first.set(id, index);
    return before === undefined
      ? []
      : [
          {
            path: [list, index, 'id'],
            message: `"${id}" is the id of ${list}[${before}] already; every id may stand once`,
          },
        ];
  });
}

function unknownStations({ stations, probes }: Lab): readonly Contradiction[] {
  const ids = stations.map(({ id }) => id);
  return probes.flatMap(({ station }, index): readonly Contradiction[] =>
    station === null || ids.includes(station)
      ? []
      : [
          {
            path: ['probes', index, 'station'],
            message: `there is no station "${station}"${didYouMean(station, ids) || '; describe it under stations, or leave the field out for a probe that is unclaimed'}`,
          },
        ],
  );
}

function calibrations({ probes }: Lab): readonly Contradiction[] {
  return probes.flatMap(({ calibration, correction_celsius }, index): readonly Contradiction[] => {
    if (calibration === undefined) return [];
    const path = ['probes', index, 'calibration'];
    if (correction_celsius !== 0)
      return [
        {
          path: ['probes', index, 'correction_celsius'],
          message: 'the calibration corrects the readings already; leave one of the two out',
        },
      ];
    const curve = calibrationCurve(calibration);
    return curve.ok
      ? []
      : [{ path: [...path, 'points'], message: problemLine(curve.problem), problem: curve.problem }];
  });
}

function overrides({ waxOverrides }: Lab): readonly Contradiction[] {
  return WAX_CLASS_IDS.flatMap((id) => {
    const values = waxOverrides[id];
    if (values === undefined) return [];
    const names = waxValueNames(id);
    const unknown = Object.keys(values)
      .filter((name) => !names.includes(name))
      .map((name) => ({
        path: ['waxOverrides', id, name],
        message: `${id} has no such value${didYouMean(name, names) || `; it has ${names.join(', ')}`}`,
      }));
    if (unknown.length > 0) return unknown;
    const checked = checkedWaxClass(id, values);
    return checked.ok
      ? []
      : [{ path: ['waxOverrides', id], message: problemLine(checked.problem), problem: checked.problem }];
  });
}

function temperatures(station: Station, lab: Lab, path: Path): readonly Contradiction[] {
  const { window_celsius: window, ceiling_celsius: ceiling, kind, wax } = station;
  const found: Contradiction[] = [];
  if (station.charge_grams !== undefined && !holdsMeltedWax(kind))
    found.push({
      path: [...path, 'charge_grams'],
      message: `only pots hold a charge, and this is a ${kind}`,
    });
  if (ceiling !== undefined && STATION_KIND_FACTS[kind].ceiling === null)
    found.push({
      path: [...path, 'ceiling_celsius'],
      message: `only heaters have a ceiling; give window_celsius for a ${kind}`,
    });
  if (window !== undefined && window[0] >= window[1])
    found.push({
      path: [...path, 'window_celsius'],
      message: `${window[0]} °C is not below ${window[1]} °C`,
    });
  const limits = stationLimits(station, lab);
  const { value: highest } = limits.ceiling ?? {};
  const { value: windowHigh } = limits.windowHigh ?? {};
  if (highest !== undefined && windowHigh !== undefined && windowHigh > highest)
    found.push({
      path: [...path, window === undefined ? 'ceiling_celsius' : 'window_celsius'],
      message: `the window reaches ${windowHigh} °C, above the ceiling of ${highest} °C`,
    });
  const { ceiling_celsius: _, ...withoutOwn } = station;
  const ofClass = stationLimits(withoutOwn, lab).ceiling;
  if (ceiling !== undefined && ofClass !== null && ceiling > ofClass.value)
    found.push({
      path: [...path, 'ceiling_celsius'],
      message: `${ceiling} °C is above the ceiling of ${wax}, ${ofClass.value} °C (${ofClass.standing}); if the maker allows it, write it as the lab's own under wax_overrides`,
    });
  return found;
}

function ownRules(station: Station, rules: KnownRules, path: Path): readonly Contradiction[] {
  return Object.entries(station.rules ?? {}).flatMap(([name, values]) => {
    const rule = rules[name];
    if (rule === undefined)
      return [
        {
          path: [...path, name],
          message: `there is no such rule${didYouMean(name, Object.keys(rules)) || `; there are ${Object.keys(rules).join(', ')}`}`,
        },
      ];
    return Object.entries(values).flatMap(([key, value]) => {
      const message = key === 'enabled' ? switching(rule, value) : figure(rule, key, value);
      return message === null ? [] : [{ path: [...path, name, key], message }];
    });
  });
}

function switching(rule: KnownRules[string], value: number | boolean): string | null {
  if (value === true) return null;
  if (value !== false) return `${value} is not what was expected: true or false`;
  return rule.mayBeSwitchedOff
    ? null
    : 'this rule protects people or its own data and stays on; expected true';
}

function figure({ parameters }: KnownRules[string], key: string, value: number | boolean): string | null {
  const known = parameters[key];
  const names = [...Object.keys(parameters), 'enabled'];
  if (known === undefined)
    return `the rule has no such value${didYouMean(key, names) || `; it has ${names.join(', ')}`}`;
  return typeof value === 'number' && value >= known.low && value <= known.high
    ? null
    : `${value} is not what was expected: a number from ${known.low} to ${known.high}`;
}
