import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { WAX_CLASS_IDS } from '../wax/classes/wax-class-id.ts';
import type { Lab, Probe, WorkingHours } from './lab.ts';
import { labFileProblemLine } from './lab-file-problem.ts';
import type { CalibrationEntry } from './calibration-entry.ts';
import { LAB_FILE_SCHEMA } from './lab-file-schema.ts';
import type { Person } from './person.ts';
import { ROLES } from './person.ts';
import { readLabFile } from './read-lab-file.ts';
import type { Station } from './station.ts';
import { heats, holdsMeltedWax, STATION_KINDS } from './station-kinds.ts';
import { writeLabFile } from './write-lab-file.ts';

const FOLDER = new URL('./files/', import.meta.url);
const SITE = 'site:\n  id: north\n  name: North\n  time_zone: Europe/Berlin\n';
const RULES = {
  'over-ceiling': { parameters: { on_delay_seconds: { low: 0, high: 60 } }, mayBeSwitchedOff: false },
  'left-on': { parameters: {}, mayBeSwitchedOff: true },
};
const problems = (text: string): readonly string[] => {
  const reading = readLabFile(text, RULES);
  return reading.ok ? [] : reading.problems.map((problem) => labFileProblemLine('lab.yaml', problem));
};
const only = (text: string): string => {
  const found = problems(text);
  expect(found).toHaveLength(1);
  return found[0] ?? '';
};

describe('the lab files that ship', () => {
  it.each(readdirSync(FOLDER))('%s is accepted', (name) => {
    expect(problems(readFileSync(new URL(name, FOLDER), 'utf8'))).toEqual([]);
  });

  it('describe eight stations for the demonstration, each with a probe', () => {
    const reading = readLabFile(readFileSync(new URL('demo.yaml', FOLDER), 'utf8'));
    expect(reading.ok).toBe(true);
    if (!reading.ok) return;
    const { stations, probes } = reading.lab;
    expect(stations).toHaveLength(8);
    for (const { id } of stations) expect(probes.some(({ station }) => station === id)).toBe(true);
  });

  it('are described by the schema that is published', async () => {
    await expect(`${JSON.stringify(LAB_FILE_SCHEMA, null, 2)}\n`).toMatchFileSnapshot(
      '../docs/generated/lab-file.schema.json',
    );
  });
});

const CALIBRATION: CalibrationEntry = {
  day: '2031-02-03',
  reference: 'Reference 7',
  points: [
    { reading_celsius: 0.3, reference_celsius: 0, scatter_celsius: 0.02 },
    { reading_celsius: 60, reference_celsius: 60.2 },
  ],
  reference_uncertainty_celsius: 0.1,
  resolution_celsius: 0.0625,
};

describe('a lab file', () => {
  it('may say no more than who and where the lab is', () => {
    const reading = readLabFile(SITE);
    expect(reading.ok && reading.lab.stations).toEqual([]);
    expect(reading.ok && reading.lab.site.workingHours.mon).toEqual([]);
  });

  it('gives a person and a probe what it does not say of them', () => {
    const reading = readLabFile(
      `${SITE}probes:\n  - { id: p, gateway: g }\npeople:\n  - { id: m, name: M, role: viewer }\n`,
    );
    expect(reading.ok && reading.lab.probes).toEqual([
      { id: 'p', gateway: 'g', station: null, correction_celsius: 0, uncertainty_celsius: 0.5 },
    ]);
    expect(reading.ok && reading.lab.people[0]?.language).toBe('en');
  });
});

describe('a lab file is refused, with place and what was expected, when', () => {
  it.each([
    ['it is empty', '', 'lab.yaml:1:1: null is not what was expected: a lab'],
    ['it is not YAML', 'site: [', 'lab.yaml:1:8: '],
    ['it is a list', '- 1', 'lab.yaml:1:1: [1] is not what was expected: a lab'],
    ['a field stands twice', `${SITE}site: {}`, 'lab.yaml:5:1: Map keys must be unique'],
    [
      'a field is missing',
      'site:\n  id: north\n  name: N\n',
      'lab.yaml:1:1: site.time_zone: the field is missing; expected the name of a time zone',
    ],
    [
      'a field is misspelt',
      `${SITE}  timezone: UTC\n`,
      'lab.yaml:5:3: site.timezone: there is no such field; did you mean "time_zone"?',
    ],
    [
      'a field is unknown',
      `${SITE}heating: on\n`,
      'lab.yaml:5:1: heating: there is no such field; expected one of site, stations, probes, people, notification_plan, wax_overrides',
    ],
    [
      'a time zone is unknown',
      SITE.replace('Berlin', 'Bärlin'),
      'lab.yaml:4:3: site.time_zone: "Europe/Bärlin" is not what was expected: the name of a time zone',
    ],
    [
      'a time zone is a bare offset',
      SITE.replace('Europe/Berlin', '"+02:00"'),
      'lab.yaml:4:3: site.time_zone',
    ],
    [
      'a site id has what a topic may not',
      SITE.replace('north', 'No/rth'),
      'lab.yaml:2:3: site.id: "No/rth" is not what was expected: an id of lower-case',
    ],
    [
      'a holiday is no day',
      `${SITE}  holidays: [2026-02-30]\n`,
      'lab.yaml:5:14: site.holidays[0]: "2026-02-30" is not what was expected: a day as YYYY-MM-DD',
    ],
    [
      'hours are no hours',
      `${SITE}  working_hours: { mon: [8-12] }\n`,
      'lab.yaml:5:26: site.working_hours.mon[0]: "8-12" is not what was expected: hours as HH:MM-HH:MM',
    ],
    [
      'hours end before they begin',
      `${SITE}  working_hours: { mon: [12:00-08:00] }\n`,
      'lab.yaml:5:26: site.working_hours.mon[0]: 12:00 is not before 08:00',
    ],
    [
      'hours overlap',
      `${SITE}  working_hours: { mon: [08:00-12:00, 11:59-17:00] }\n`,
      'lab.yaml:5:39: site.working_hours.mon[1]: begins at 11:59, before the hours above it end at 12:00',
    ],
    [
      'a wax is misspelt',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp, wax: inlay-typ-2 }\n`,
      'lab.yaml:6:35: stations[0].wax: "inlay-typ-2" is not what was expected: a wax class: one of inlay-type-1,',
    ],
    [
      'a number is a word',
      `${SITE}probes:\n  - id: p\n    gateway: g\n    correction_celsius: warm\n`,
      'lab.yaml:8:5: probes[0].correction_celsius: "warm" is not what was expected: degrees from -20 to 20',
    ],
    [
      'two stations have one id',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp }\n  - { id: a, name: B, kind: shelf }\n`,
      'lab.yaml:7:7: stations[1].id: "a" is the id of stations[0] already',
    ],
    [
      'a probe is at an unknown station',
      `${SITE}stations:\n  - { id: cabinet, name: A, kind: cabinet }\nprobes:\n  - { id: p, gateway: g, station: cabinett }\n`,
      'lab.yaml:8:26: probes[0].station: there is no station "cabinett"; did you mean "cabinet"?',
    ],
    [
      'a window is upside down',
      `${SITE}stations:\n  - { id: a, name: A, kind: shelf, window_celsius: [24, 18] }\n`,
      'lab.yaml:6:36: stations[0].window_celsius: 24 °C is not below 18 °C',
    ],
    [
      'a window reaches over the ceiling',
      `${SITE}stations:\n  - { id: a, name: A, kind: melt-pot, wax: inlay-type-2, window_celsius: [70, 95] }\n`,
      'stations[0].window_celsius: the window reaches 95 °C, above the ceiling of 90 °C',
    ],
    [
      'a ceiling lies above that of the class',
      `${SITE}stations:\n  - { id: a, name: A, kind: melt-pot, wax: inlay-type-2, ceiling_celsius: 91 }\n`,
      "stations[0].ceiling_celsius: 91 °C is above the ceiling of inlay-type-2, 90 °C (common practice); if the maker allows it, write it as the lab's own under wax_overrides",
    ],
    [
      'a ceiling lies where heaters must be off',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp, ceiling_celsius: 151 }\n`,
      'stations[0].ceiling_celsius: 151 is not what was expected: a temperature from -40 to 150 °C',
    ],
    [
      'a shelf has a ceiling',
      `${SITE}stations:\n  - { id: a, name: A, kind: shelf, ceiling_celsius: 25 }\n`,
      'stations[0].ceiling_celsius: only heaters have a ceiling',
    ],
    [
      'a lamp holds a charge',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp, charge_grams: 25 }\n`,
      'stations[0].charge_grams: only pots hold a charge, and this is a lamp',
    ],
    [
      'a value of a wax is unknown',
      `${SITE}wax_overrides:\n  sticky:\n    cieling_celsius: 80\n`,
      'lab.yaml:7:5: wax_overrides.sticky.cieling_celsius: sticky has no such value; did you mean "ceiling_celsius"?',
    ],
    [
      'a value of a wax contradicts the others',
      `${SITE}wax_overrides:\n  sticky:\n    ceiling_celsius: 10\n`,
      'lab.yaml:6:3: wax_overrides.sticky: ',
    ],
    [
      'a rule is unknown',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp, rules: { left-one: { enabled: false } } }\n`,
      'stations[0].rules.left-one: there is no such rule; did you mean "left-on"?',
    ],
    [
      'a value of a rule is unknown',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp, rules: { left-on: { delay: 4 } } }\n`,
      'stations[0].rules.left-on.delay: the rule has no such value; it has enabled',
    ],
    [
      'a value of a rule is beyond its bounds',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp, rules: { over-ceiling: { on_delay_seconds: 61 } } }\n`,
      'stations[0].rules.over-ceiling.on_delay_seconds: 61 is not what was expected: a number from 0 to 60',
    ],
    [
      'a rule is switched off that protects people',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp, rules: { over-ceiling: { enabled: false } } }\n`,
      'stations[0].rules.over-ceiling.enabled: this rule protects people or its own data and stays on',
    ],
  ])('%s', (_, text, expected) => {
    expect(only(text)).toContain(expected);
  });

  it('it is wrong in several places: all are told at once', () => {
    expect(
      problems(`${SITE.replace('north', 'No')}stations:\n  - { id: a, nam: A, kind: lamp }\n`),
    ).toHaveLength(3);
  });

  it('it multiplies itself by aliases', () => {
    const bomb = Array.from(
      { length: 9 },
      (_, level) =>
        `a${level}: &a${level} [${Array(9)
          .fill(level === 0 ? 'x' : `*a${level - 1}`)
          .join(', ')}]`,
    );
    expect(only(`${bomb.join('\n')}\n`)).toContain('alias');
  });

  it('it is larger than any lab', () => {
    expect(only(`# ${'x'.repeat(1_000_000)}`)).toContain('at most 1000000');
  });
});

describe('a lab written down', () => {
  const id = fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9-]{0,15}$/);
  const name = fc
    .string({ minLength: 1, maxLength: 40, unit: 'grapheme' })
    .filter((text) => text.length <= 80);
  const day = fc
    .integer({ min: 0, max: 3000 })
    .map((days) => new Date(days * 86_400_000 + 1.7e12).toJSON().slice(0, 10));
  const clock = (minutes: number) =>
    `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
  const hours = fc
    .uniqueArray(fc.integer({ min: 0, max: 1440 }), { maxLength: 6 })
    .map((times) => times.sort((a, b) => a - b))
    .map((times) =>
      times.flatMap((opens, index) => {
        const closes = times[index + 1];
        return index % 2 === 0 && closes !== undefined ? [[clock(opens), clock(closes)] as const] : [];
      }),
    );
  const week: fc.Arbitrary<WorkingHours> = fc.record({
    mon: hours,
    tue: hours,
    wed: hours,
    thu: hours,
    fri: hours,
    sat: hours,
    sun: hours,
  });
  const station: fc.Arbitrary<Station> = fc
    .record({
      id,
      name,
      kind: fc.constantFrom(...STATION_KINDS),
      wax: fc.option(fc.constantFrom(...WAX_CLASS_IDS)),
      grams: fc.option(fc.integer({ min: 1, max: 5000 })),
      window: fc.boolean(),
      rules: fc.boolean(),
    })
    .map(({ grams, window, rules, ...rest }) => ({
      ...rest,
      ...(grams !== null && holdsMeltedWax(rest.kind) && { charge_grams: grams }),
      ...(window && !heats(rest.kind) && { window_celsius: [17.5, 22.25] as const }),
      ...(rules && { rules: { 'over-ceiling': { on_delay_seconds: 20.5, enabled: true } } }),
    }));
  const person: fc.Arbitrary<Person> = fc.record({
    id,
    name,
    role: fc.constantFrom(...ROLES),
    language: fc.constantFrom('en', 'de'),
    temperatureUnit: fc.constantFrom('celsius', 'fahrenheit'),
    hourCycle: fc.constantFrom('h12', 'h23'),
    email: fc.option(fc.constant('mira@lab.example')),
    namesOnLockScreen: fc.boolean(),
    morningHeartbeat: fc.boolean(),
  });
  const unique = <T extends { readonly id: string }>(one: fc.Arbitrary<T>) =>
    fc.uniqueArray(one, { maxLength: 6, selector: (thing) => thing.id });
  const lab: fc.Arbitrary<Lab> = fc
    .record({
      site: fc.record({
        id: fc.constant('north-1'),
        name,
        timeZone: fc.constantFrom('Europe/Berlin', 'UTC', 'Asia/Kathmandu'),
        workingHours: week,
        holidays: fc.uniqueArray(day, { maxLength: 4 }),
      }),
      stations: unique(station),
      people: unique(person),
      probeIds: fc.uniqueArray(id, { maxLength: 6 }),
      due: fc.option(day),
      correction: fc.constantFrom(0, -0.25, 1.5),
      isCalibrated: fc.boolean(),
      overridden: fc.boolean(),
    })
    .map(({ probeIds, due, correction, isCalibrated, overridden, ...rest }) => ({
      ...rest,
      probes: probeIds.map(
        (probe, index): Probe => ({
          id: probe,
          gateway: 'gw.1',
          station: rest.stations[index]?.id ?? null,
          correction_celsius: isCalibrated ? 0 : correction,
          uncertainty_celsius: index % 2 ? 0.5 : 0.2,
          ...(due !== null && { calibrationDue: due }),
          ...(index === 0 && { powersOnAt85: true }),
          ...(isCalibrated && { calibration: CALIBRATION }),
        }),
      ),
      charges: [],
      patterns: [],
      waxOverrides: overridden ? { 'inlay-type-2': { ceiling: 84.5 } } : {},
    }));

  it('reads back as the same lab, whatever its names are', () => {
    fc.assert(
      fc.property(lab, (described) => {
        expect(readLabFile(writeLabFile(described), RULES)).toEqual({
          ok: true,
          lab: described,
          oldSpellings: [],
        });
      }),
      { numRuns: 150 },
    );
  });

  it('says in comments what each part is, and keeps hours on one line', () => {
    const hours = '  working_hours:\n    mon: [07:30-12:00, 12:45-17:30]\n';
    const reading = readLabFile(`${SITE}${hours}stations:\n  - { id: a, name: A, kind: shelf }\n`);
    const text = reading.ok ? writeLabFile(reading.lab) : '';
    expect(text).toMatch(/^# A lab file of Waxwarden\.\n\n# The lab itself/);
    expect(text).toContain('# Places whose temperature matters.');
    expect(text).toContain(hours);
  });
});
