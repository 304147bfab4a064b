import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { LabFileProblem } from './lab-file-problem.ts';
import { readLabFile } from './read-lab-file.ts';
import { SITE, RULES_BY_PLACE } from '../../tests/lab-file-for-tests.ts';

const FOLDER = new URL('../files/', import.meta.url);
/** `line:column: path: code: values`, the values in the order of the code. */
const lineOf = ({ line, column, path, code, values = {} }: LabFileProblem): string =>
  [`${line}:${column}`, path, code, Object.values(values).join(' ')].filter((part) => part !== '').join(': ');
const problems = (text: string): readonly string[] => {
  const reading = readLabFile(text, { rules: RULES_BY_PLACE, languages: ['de', 'en'] });
  return reading.ok ? [] : reading.problems.map(lineOf);
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
});

describe('a lab file', () => {
  it('may hold no more than who and where the lab is', () => {
    const reading = readLabFile(SITE);
    expect(reading.ok && reading.lab.stations).toEqual([]);
    expect(reading.ok && reading.lab.site.workingHours.mon).toEqual([]);
  });

  it('gives a person and a probe what it leaves out of them', () => {
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
    ['it is empty', '', '1:1: field-wrong-type: object'],
    ['it is not YAML', 'site: [', '1:8: lab-file-unreadable: '],
    [
      'a tag is not known',
      `${SITE}probes: !heated []\n`,
      '5:9: lab-file-unreadable: Unresolved tag: !heated',
    ],
    [
      'it is nested without end',
      '['.repeat(30_000) + ']'.repeat(30_000),
      'lab-file-unreadable: Nested too deeply',
    ],
    [
      'it holds two documents',
      `${SITE}---\n${SITE}`,
      'lab-file-unreadable: More than one document in the file',
    ],
    ['it is a list', '- 1', '1:1: field-wrong-type: object'],
    ['a field appears twice', `${SITE}site: {}`, '5:1: lab-file-unreadable: Map keys must be unique'],
    [
      'a field is missing',
      'site:\n  id: north\n  name: N\n',
      '1:1: site.time_zone: field-missing: time_zone',
    ],
    [
      'a field is misspelt',
      `${SITE}  timezone: UTC\n`,
      '5:3: site.timezone: lab-file-unknown-field: timezone time_zone',
    ],
    [
      'a field is unknown',
      `${SITE}heating: on\n`,
      '5:1: heating: lab-file-unknown-field: heating none site, stations, probes, people, notification_plan, wax_overrides',
    ],
    [
      'a time zone is unknown',
      SITE.replace('Berlin', 'Bärlin'),
      '4:3: site.time_zone: field-not-a-time-zone',
    ],
    [
      'a time zone is a bare offset',
      SITE.replace('Europe/Berlin', '"+02:00"'),
      '4:3: site.time_zone: field-not-a-time-zone',
    ],
    [
      'a site id has what a topic may not',
      SITE.replace('north', 'No/rth'),
      '2:3: site.id: field-wrong-form: site',
    ],
    ['a holiday is no day', `${SITE}  holidays: [2026-02-30]\n`, '5:14: site.holidays[0]: field-not-a-day'],
    [
      'hours are no hours',
      `${SITE}  working_hours: { mon: [8-12] }\n`,
      '5:26: site.working_hours.mon[0]: field-wrong-form: hours',
    ],
    [
      'hours end before they begin',
      `${SITE}  working_hours: { mon: [12:00-08:00] }\n`,
      '5:26: site.working_hours.mon[0]: hours-reversed: 12:00 08:00',
    ],
    [
      'hours overlap',
      `${SITE}  working_hours: { mon: [08:00-12:00, 11:59-17:00] }\n`,
      '5:39: site.working_hours.mon[1]: hours-overlap: 11:59 12:00',
    ],
    [
      'a wax is misspelt',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp, wax: inlay-typ-2 }\n`,
      '6:35: stations[0].wax: field-not-listed: inlay-type-1,',
    ],
    [
      'a number is a word',
      `${SITE}probes:\n  - id: p\n    gateway: g\n    correction_celsius: warm\n`,
      '8:5: probes[0].correction_celsius: field-wrong-type: number',
    ],
    [
      'two stations have one id',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp }\n  - { id: a, name: B, kind: shelf }\n`,
      '7:7: stations[1].id: id-repeated: a',
    ],
    [
      'a probe is at an unknown station',
      `${SITE}stations:\n  - { id: cabinet, name: A, kind: cabinet }\nprobes:\n  - { id: p, gateway: g, station: cabinett }\n`,
      '8:26: probes[0].station: station-not-described: cabinett cabinet',
    ],
    [
      'a person reads a language without words',
      `${SITE}people:\n  - { id: ilse, name: Ilse, role: manager, language: nl }\n`,
      '6:44: people[0].language: field-not-listed: de, en',
    ],
    [
      'a window is upside down',
      `${SITE}stations:\n  - { id: a, name: A, kind: shelf, window_celsius: [24, 18] }\n`,
      '6:36: stations[0].window_celsius: window-reversed: 24 18',
    ],
    [
      'a window reaches over the ceiling',
      `${SITE}stations:\n  - { id: a, name: A, kind: melt-pot, wax: inlay-type-2, window_celsius: [70, 95] }\n`,
      'stations[0].window_celsius: window-above-ceiling: 95 90',
    ],
    [
      'a ceiling lies above that of the class',
      `${SITE}stations:\n  - { id: a, name: A, kind: melt-pot, wax: inlay-type-2, ceiling_celsius: 91 }\n`,
      'stations[0].ceiling_celsius: ceiling-above-wax: 91 90 inlay-type-2',
    ],
    [
      'a ceiling lies where heaters must be off',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp, ceiling_celsius: 151 }\n`,
      'stations[0].ceiling_celsius: field-too-large: 150',
    ],
    [
      'a shelf has a ceiling',
      `${SITE}stations:\n  - { id: a, name: A, kind: shelf, ceiling_celsius: 25 }\n`,
      'stations[0].ceiling_celsius: ceiling-without-heater: shelf',
    ],
    [
      'a lamp holds a charge',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp, charge_grams: 25 }\n`,
      'stations[0].charge_grams: charge-without-pot: lamp',
    ],
    [
      'a shelf has a heater',
      `${SITE}stations:\n  - { id: a, name: A, kind: shelf, heater_watts: 25 }\n`,
      'stations[0].heater_watts: watts-without-heater: shelf',
    ],
    [
      'a lamp is to be ready by a time',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp, ready_by: '08:15' }\n`,
      'stations[0].ready_by: ready-without-heater: lamp',
    ],
    [
      'a value of a wax is unknown',
      `${SITE}wax_overrides:\n  sticky:\n    cieling_celsius: 80\n`,
      '7:5: wax_overrides.sticky.cieling_celsius: lab-file-unknown-field: cieling_celsius ceiling_celsius',
    ],
    [
      'a value of a wax contradicts the others',
      `${SITE}wax_overrides:\n  sticky:\n    ceiling_celsius: 10\n`,
      'wax_overrides.sticky',
    ],
    [
      'a rule is unknown',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp, rules: { left-one: { enabled: false } } }\n`,
      'stations[0].rules.left-one: rule-not-known: left-one left-on',
    ],
    [
      'a value of a rule is unknown',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp, rules: { left-on: { delay: 4 } } }\n`,
      'stations[0].rules.left-on.delay: rule-parameter-unknown: delay enabled',
    ],
    [
      'a rule bears a name of the language itself',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp, rules: { toString: { enabled: false } } }\n`,
      'stations[0].rules.toString: rule-not-known: toString',
    ],
    [
      'a value of a rule bears a name of the language itself',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp, rules: { left-on: { constructor: 4 } } }\n`,
      'stations[0].rules.left-on.constructor: rule-parameter-unknown: constructor enabled',
    ],
    [
      'a value of a rule is beyond its bounds',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp, rules: { over-ceiling: { on_delay_seconds: 61 } } }\n`,
      'stations[0].rules.over-ceiling.on_delay_seconds: rule-parameter-refused: on_delay_seconds 0 60',
    ],
    [
      'a rule of gateways is set at a station',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp, rules: { gateway-lost: { least_probes_count: 3 } } }\n`,
      'stations[0].rules.gateway-lost: rule-without-effect: gateway-lost lamp',
    ],
    [
      'a rule of stations is set for the whole lab',
      `${SITE}  rules: { left-on: { enabled: false } }\n`,
      'site.rules.left-on: rule-without-effect: left-on lab',
    ],
    [
      'a value of a rule of the whole lab is beyond its bounds',
      `${SITE}  rules: { gateway-lost: { least_probes_count: 1 } }\n`,
      'site.rules.gateway-lost.least_probes_count: rule-parameter-refused: least_probes_count 2 100',
    ],
    [
      'a rule is switched off that protects people',
      `${SITE}stations:\n  - { id: a, name: A, kind: lamp, rules: { over-ceiling: { enabled: false } } }\n`,
      'stations[0].rules.over-ceiling.enabled: rule-always-on',
    ],
  ])('%s', (_, text, expected) => {
    expect(only(text)).toContain(expected);
  });

  it('it is wrong in several places: all are reported at once', () => {
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

  it.each([
    ['its keys are collections', '? '.repeat(600), '1:3: lab-file-unreadable: A key must be a single word'],
    ['it has more aliases than any lab needs', `- &a x\n${'- *a\n'.repeat(101)}`, 'More than 100 aliases'],
    [
      'a list of single values is longer than any lab has one',
      `${SITE}  holidays: [${"'2031-01-01',".repeat(60_000)}]\n`,
      '5:13: lab-file-unreadable: A list of more than 1000 single values',
    ],
    [
      'one mapping has more keys than a file can be read with when each is compared with each',
      `${Array.from({ length: 80_000 }, (_, index) => `k${index}: 1`).join('\n')}\nk0: 1\n`,
      '80001:1: lab-file-unreadable: Map keys must be unique',
    ],
  ])('%s', (_, text, expected) => {
    expect(only(text)).toContain(expected);
  });

  it('it is wrong throughout: a hundred problems are enough to begin with', () => {
    const probes = '  - { id: p, gateway: g }\n'.repeat(20_000);
    expect(problems(`${SITE}probes:\n${probes}`)).toHaveLength(100);
  });

  it('it is larger than any lab', () => {
    expect(only(`# ${'x'.repeat(1_000_000)}`)).toContain('lab-file-too-large: 1000000');
  });
});
