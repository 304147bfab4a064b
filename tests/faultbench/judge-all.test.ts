import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeCase } from '../../simulators/cases/write-case.ts';
import { folderSources, seedSources } from './case-sources.ts';
import { judgeAll } from './judge-all.ts';
import { judgeCase } from './judge-case.ts';
import { potCase } from './rehearsed-case.ts';

const STUCK = potCase({ sticksAtMinute: 150, unpluggedAt: 100, minutes: 240 });
const GOOD = potCase({ sticksAtMinute: null, unpluggedAt: 100, minutes: 60 });
const WISHES = { faults: [], without: [], plots: true, historyHours: null } as const;

let folder: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-cases-'));
  await writeCase(join(folder, 'b', 'stuck'), STUCK);
  await writeCase(join(folder, 'a', 'good'), GOOD);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('cases on disk', () => {
  it('are judged as they were before they were laid down', async () => {
    const [good, stuck] = await judgeAll(folderSources(folder), WISHES, 1);
    const before = await judgeCase(STUCK);
    if (good?.kind !== 'judged' || stuck?.kind !== 'judged') throw new Error('a case was not judged');
    expect(stuck.judged.beginnings).toEqual(before.beginnings);
    expect(stuck.judged.score).toEqual(before.score);
    expect(good.judged.score.faults).toEqual([]);
  });

  it('are judged the same on two threads, in the same order', async () => {
    const sources = folderSources(folder);
    expect(await judgeAll(sources, WISHES, 2)).toEqual(await judgeAll(sources, WISHES, 1));
  });

  it('have a plot of each fault that was missed, and none of those seen in time', async () => {
    const sources = folderSources(join(folder, 'b'));
    const blind = {
      ...WISHES,
      without: ['heading-over', 'runaway', 'outside-window', 'over-ceiling'],
    } as const;
    const [seen] = await judgeAll(sources, WISHES, 1);
    const [missed] = await judgeAll(sources, blind, 1);
    expect(seen).toMatchObject({ plots: [] });
    expect(missed).toMatchObject({
      plots: [expect.stringMatching(/<b>stuck_on<\/b> at pot-1: never.*<svg/s)],
    });
  });

  it.each([
    [['stuck_on'], ['unwanted', 'judged']],
    [['normal'], ['judged', 'unwanted']],
    [['door_ajar'], ['unwanted', 'unwanted']],
  ])('of the faults %j are judged, the others are not', async (faults, kinds) => {
    const answers = await judgeAll(folderSources(folder), { ...WISHES, faults }, 1);
    expect(answers.map(({ kind }) => kind)).toEqual(kinds);
  });

  it('that are none are refused without ending the others', async () => {
    const sources = [...folderSources(folder), { kind: 'folder', folder: join(folder, 'a') } as const];
    const answers = await judgeAll(sources, WISHES, 1);
    expect(answers.map(({ kind }) => kind)).toEqual(['judged', 'judged', 'refused']);
  });
});

describe('seeds', () => {
  it('from A to B give every fault and every ordinary week once each', () => {
    const sources = seedSources('3..4', []);
    const names = sources.map((source) => (source.kind === 'seed' ? `${source.name} ${source.seed}` : ''));
    expect(new Set(names).size).toBe(names.length);
    expect(names.filter((name) => name.startsWith('stuck_on '))).toEqual(['stuck_on 3', 'stuck_on 4']);
    expect(names.some((name) => name.startsWith('normal-'))).toBe(true);
  });

  it.each([
    ['5', ['stuck_on'], [['stuck_on', 5]]],
    ['5..5', ['stuck_on+power_cut_short'], [['stuck_on+power_cut_short', 5]]],
  ] as const)('%s of %j are those cases', (range, faults, expected) => {
    const sources = seedSources(range, faults);
    expect(sources.map((source) => (source.kind === 'seed' ? [source.name, source.seed] : []))).toEqual(
      expected,
    );
  });

  it.each([
    ['4..3', []],
    ['a..b', []],
    ['', []],
    ['1', ['flooded']],
    ['1', ['stuck_on+flooded']],
  ])('%j of %j are refused', (range, faults) => {
    expect(() => seedSources(range, faults)).toThrow(/^--(seeds|faults)/);
  });
});
