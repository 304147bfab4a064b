import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { WAX_CLASS_IDS } from '../../wax/classes/wax-class-id.ts';
import type { Lab, Probe, WorkingHours } from '../lab.ts';
import type { CalibrationEntry } from '../calibration-entry.ts';
import type { Person } from '../person.ts';
import { ROLES } from '../person.ts';
import { readLabFile } from './read-lab-file.ts';
import type { Station } from '../station.ts';
import { heats, holdsMeltedWax, STATION_KINDS } from '../station-kinds.ts';
import { VISIBLE_LINE_PATTERN } from '../visible-text.ts';
import { writeLabFile } from './write-lab-file.ts';
import { SITE, RULES_BY_PLACE } from '../../tests/lab-file-for-tests.ts';

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

describe('a lab written down', () => {
  const id = fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9-]{0,15}$/);
  const name = fc
    .string({ minLength: 1, maxLength: 40, unit: 'grapheme' })
    .filter((text) => text.length <= 80 && new RegExp(VISIBLE_LINE_PATTERN, 'u').test(text));
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
      watts: fc.option(fc.integer({ min: 1, max: 5000 })),
      window: fc.boolean(),
      rules: fc.boolean(),
    })
    .map(({ grams, watts, window, rules, ...rest }) => ({
      ...rest,
      ...(grams !== null && holdsMeltedWax(rest.kind) && { charge_grams: grams }),
      ...(watts !== null && heats(rest.kind) && { heater_watts: watts }),
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
  const unique = <T extends { readonly id: string }>(items: fc.Arbitrary<T>) =>
    fc.uniqueArray(items, { maxLength: 6, selector: (thing) => thing.id });
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
        expect(
          readLabFile(writeLabFile(described), { rules: RULES_BY_PLACE, languages: ['de', 'en'] }),
        ).toEqual({ ok: true, lab: described, oldSpellings: [] });
      }),
      { numRuns: 150 },
    );
  });

  it('explains in comments what each part is, and keeps hours on one line', () => {
    const hours = '  working_hours:\n    mon: [07:30-12:00, 12:45-17:30]\n';
    const reading = readLabFile(`${SITE}${hours}stations:\n  - { id: a, name: A, kind: shelf }\n`);
    const text = reading.ok ? writeLabFile(reading.lab) : '';
    expect(text).toMatch(/^# A lab file of Waxwarden\.\n\n# The lab itself/);
    expect(text).toContain('# Places whose temperature matters.');
    expect(text).toContain(hours);
  });
});
