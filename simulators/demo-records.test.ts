import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { recall } from '../lab/patterns/recall.ts';
import { readLabFile } from '../lab/lab-file/read-lab-file.ts';
import type { Pattern } from '../lab/pattern.ts';
import { LANGUAGE_CODES, messageOf } from '../words/load-languages.ts';
import {
  demoCharges,
  demoLots,
  type DemoPattern,
  demoPatterns,
  demoTopUp,
  patternDiary,
} from './demo-records.ts';
import { dayOf, type SimulatedSite } from './lab/site-hours.ts';

const MINUTE = 60_000;
/** A Friday with some minutes of work behind it. */
const NOW = Date.parse('2031-03-07T07:45:00.000Z');
const WORKED = [['07:30', '17:30']] as const;
const SITE: SimulatedSite = {
  id: 'demo',
  timeZone: 'Etc/GMT',
  workingHours: { mon: WORKED, tue: WORKED, wed: WORKED, thu: WORKED, fri: WORKED, sat: [], sun: [] },
  holidays: [],
};
const named = (id: string): string => `name of ${id}`;
const POTS = [
  { id: 'melt-pot-crowns', wax: 'inlay-type-2', grams: 35 },
  { id: 'dip-pot', wax: 'inlay-dip', grams: 60 },
] as const;

describe('the records of the demonstration', () => {
  it('write each act down when its time comes, and no act before', () => {
    const saved = new Map<string, DemoPattern>();
    const save = patternDiary(demoPatterns(SITE, NOW, named), (pattern) => saved.set(pattern.id, pattern));
    save(NOW - 11 * MINUTE);
    expect(saved.get('4TK7M')?.acts).toEqual([]);
    save(NOW - 5 * MINUTE);
    expect(saved.get('4TK7M')?.acts.map(({ kind }) => kind)).toEqual(['off-die']);
    save(NOW);
    expect(saved.get('4TK7M')?.acts.map(({ kind }) => kind)).toEqual(['off-die', 'sprued']);
    expect([...saved.values()].every(({ acts }) => acts.every(({ at }) => Date.parse(at) <= NOW))).toBe(true);
  });

  it.each(['2031-03-03T07:45:00.000Z', '2031-03-07T07:45:00.000Z'])(
    'lie within working hours when the demonstration begins at %s',
    (begin) => {
      const now = Date.parse(begin);
      const instants = demoPatterns(SITE, now, named)
        .flatMap(({ madeAt, acts, stays }) => [
          madeAt,
          ...acts.map(({ at }) => at),
          ...stays.map(({ from }) => from),
        ])
        .map((at) => Date.parse(at));
      for (const at of [...instants, demoTopUp(SITE, now).at]) {
        const { work } = dayOf(SITE, at);
        expect(at).toBeGreaterThanOrEqual(work?.opens ?? Number.POSITIVE_INFINITY);
        expect(at).toBeLessThanOrEqual(Math.min(now, work?.closes ?? 0));
      }
    },
  );

  it('have lots that a recall finds in patterns and pots, one of them past its last day', () => {
    const lots = demoLots(NOW, named);
    const patterns: readonly Pattern[] = demoPatterns(SITE, NOW, named);
    const found = recall(
      lots.filter(({ id }) => id === 'crowns'),
      demoCharges(POTS, NOW),
      patterns,
    );
    expect(found.patterns.map(({ pattern }) => pattern.id).sort()).toEqual(['4TK7M', '9HQ3C', 'R2WDX']);
    expect(found.charges.map(({ charge }) => charge.station)).toEqual(['melt-pot-crowns']);
    expect(lots.filter(({ expiresOn }) => expiresOn !== null && expiresOn < '2031-03-07')).toHaveLength(1);
  });
});

describe('what the people of the demonstration named', () => {
  const reading = readLabFile(readFileSync(join(import.meta.dirname, '../lab/files/demo.yaml'), 'utf8'));
  const stations = reading.ok ? reading.lab.stations : [];
  const keys = [
    ...stations.map(({ id }) => `station.${id}`),
    ...demoPatterns(SITE, NOW, named).map(({ id }) => `case.${id}`),
    ...demoLots(NOW, named).map(({ id }) => `maker.${id}`),
  ].map((key) => `demonstration.${key}`);

  it.each(LANGUAGE_CODES)('has a name of its own in %s', (language) => {
    const names = keys.map((key) => messageOf(language, key));
    expect(names.filter((name) => name === null)).toEqual([]);
    expect(new Set(names.slice(0, stations.length)).size).toBe(stations.length);
  });

  it('has in English the names of its lab file', () => {
    expect(stations).toHaveLength(8);
    expect(stations.map(({ id }) => messageOf('en', `demonstration.station.${id}`))).toEqual(
      stations.map(({ name }) => name),
    );
  });
});
