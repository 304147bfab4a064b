import { describe, expect, it } from 'vitest';
import { judgeCase } from './judge-case.ts';
import { potCase, START } from './rehearsed-case.ts';
import type { RuleKind } from './run-case.ts';

const HOUR = 3_600_000;
const STUCK = { sticksAtMinute: 150, unpluggedAt: 100, minutes: 300 };
/** Every rule that can see a pot climb. */
const CLIMBING: readonly RuleKind[] = [
  'heading-over',
  'runaway',
  'outside-window',
  'over-ceiling',
  'fire-risk',
];

describe('a pot that is stuck on', () => {
  it('is found and notified before its ceiling, with the right cause', async () => {
    const { score } = await judgeCase(potCase(STUCK));
    expect(score.faults).toMatchObject([{ outcome: 'found', isNotified: true, isRightCause: true }]);
    expect(score.faults[0]?.leadMinutes).toBeGreaterThan(1);
    expect(score.nuisances).toEqual([]);
  });

  it('is reported as never found by a watch without the rules that see a climb', async () => {
    const { score } = await judgeCase(potCase(STUCK), { without: CLIMBING });
    expect(score.faults).toMatchObject([{ outcome: 'never', isNotified: false, first: null }]);
  });

  it('is reported as late by a watch that detects it only when it is about to burn', async () => {
    const without = CLIMBING.filter((rule) => rule !== 'fire-risk');
    const { score } = await judgeCase(potCase({ ...STUCK, unpluggedAt: 155 }), { without });
    expect(score.faults).toMatchObject([{ outcome: 'late', leadMinutes: null }]);
  });

  it('twice is two alarms, as the first one was acknowledged and reset in between', async () => {
    const { beginnings } = await judgeCase(potCase({ ...STUCK, minutes: 600 }));
    const over = beginnings.filter(({ rule }) => rule === 'over-ceiling');
    expect(over.length).toBeGreaterThan(1);
    expect(new Set(over.map(({ alarm }) => alarm)).size).toBe(over.length);
  });

  it('is judged by arrival, whatever the clock of its gateway shows', async () => {
    const first = async (clockAheadMillis: number) =>
      (await judgeCase(potCase({ ...STUCK, clockAheadMillis }))).beginnings[0]?.at;
    expect(await first(-50_000)).toBe(await first(0));
  });

  it('gives the same beginnings each time', async () => {
    const [firstRun, secondRun] = [await judgeCase(potCase(STUCK)), await judgeCase(potCase(STUCK))];
    expect(firstRun.beginnings).toEqual(secondRun.beginnings);
  });
});

describe('a pot in good order', () => {
  it('raises nothing in a morning', async () => {
    const { beginnings, score } = await judgeCase(potCase({ ...STUCK, sticksAtMinute: null }));
    expect(beginnings).toEqual([]);
    expect(score.goodStationHours).toBe(5);
  });

  it('whose probe falls silent at night while it is on is notified of at once', async () => {
    const { beginnings } = await judgeCase(
      potCase({ sticksAtMinute: null, unpluggedAt: 100, silentFromMinute: 12 * 60, minutes: 24 * 60 }),
    );
    const silent = beginnings.find(({ rule }) => rule === 'probe-silent');
    expect(silent?.at).toBeLessThan(START + 12.2 * HOUR);
    expect(silent?.notifiedAt).toBe(silent?.at);
  });
});
