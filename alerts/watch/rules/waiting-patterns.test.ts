import { describe, expect, it } from 'vitest';
import type { Pattern } from '../../../lab/pattern.ts';
import { START, tickAt } from '../../../tests/rehearsal.ts';
import { patternOutlooks, waxWatch } from '../wax-watch.ts';
import { HOUR, place, shelf, every, run, begun } from '../../../tests/place-runs.ts';

describe('waiting patterns', () => {
  const pattern: Pattern = {
    id: 'w1',
    caseReference: 'case 1',
    wax: 'inlay-type-1',
    technique: 'layered',
    length_millimetres: 40,
    tolerance_micrometres: 40,
    madeAt: new Date(START).toISOString(),
    madeBy: 'Mira',
    stays: [{ station: 'place', from: new Date(START).toISOString(), to: null }],
    fate: null,
  };
  const lab = place('shelf', { patterns: [pattern] });
  const days = every(600, 0, 48 * HOUR, () => 24);
  const outlookAfter = (entries: typeof days, of = lab, hours = entries.length / 6) =>
    patternOutlooks(run(entries, of).state, of, START + hours * 3_600_000)[0];
  it('age where they lie, the longer the more', () => {
    const [early, late] = [outlookAfter(days.slice(0, 12)), outlookAfter(days)].map(
      (outlook) => outlook?.verdict.permanent,
    );
    expect(late?.likely ?? 0).toBeGreaterThan(early?.likely ?? Infinity);
    expect(late?.low ?? Infinity).toBeLessThanOrEqual(late?.likely ?? 0);
    expect(outlookAfter(days)?.meanKineticCelsius).toBeCloseTo(24, 6);
  });
  it('have a verdict from the first reading after they were made, not ten minutes later', () => {
    const madeAt = new Date(START + 630_000).toISOString();
    const stays = [{ station: 'place', from: madeAt, to: null }];
    const between = place('shelf', { patterns: [{ ...pattern, madeAt, stays }] });
    const minutes = every(60, 0, 0.25 * HOUR, () => 24);
    const { state } = run(minutes.slice(0, 11), shelf);
    const reasonAfter = (count: number) =>
      patternOutlooks(
        waxWatch.stepAll(state, minutes.slice(11, 11 + count), between).state,
        between,
        START + (11 + count) * 60_000,
      )[0]?.verdict.reason;
    expect(reasonAfter(0)).toBe('no-readings');
    expect(reasonAfter(1)).toBe('within-tolerance');
  });
  it('are raised to be due the lead time before their tolerance, and no earlier', () => {
    const { findings } = run(days, lab);
    const due = findings.find(({ rule }) => rule === 'pattern-due');
    const tolerance = outlookAfter(days)?.verdict.toleranceAt ?? 0;
    expect((tolerance - (due?.at ?? 0)) / 3_600_000).toBeLessThanOrEqual(12);
    const roomy = place('shelf', { patterns: [{ ...pattern, tolerance_micrometres: 4000 }] });
    expect(begun(days.slice(0, 140), roomy)).not.toContain('pattern-due');
  });
  it('are due by the standing time a day after it was up, though their error never gets there', () => {
    const roomy = place('shelf', { patterns: [{ ...pattern, tolerance_micrometres: 4000 }] });
    expect(begun(days.slice(0, 146), roomy)).not.toContain('pattern-due');
    expect(begun(days.slice(0, 150), roomy)).toContain('pattern-due');
    const onDie = place('shelf', {
      patterns: [{ ...pattern, tolerance_micrometres: 4000, isMadeOnDie: true }],
    });
    expect(begun(days, onDie)).not.toContain('pattern-due');
  });
  it('have one verdict on the alarm and on every screen, at whatever moment of the ten minutes it is loaded', () => {
    const { state, findings } = run(days, lab);
    const last = findings.filter(({ rule }) => rule === 'pattern-due').at(-1)?.evidence;
    const [first, later] = [0, 9.9].map(
      (minutes) => patternOutlooks(state, lab, START + 48 * 3_600_000 + minutes * 60_000)[0],
    );
    expect(first?.verdict).toEqual(later?.verdict);
    for (const name of ['likely_micrometres', 'low_micrometres', 'high_micrometres'])
      expect(Math.round(Number(last?.[name]))).toBe(Math.round(first?.verdict.values[name] ?? 0));
    expect(last).toMatchObject({ verdict: first?.verdict.verdict, reason: first?.verdict.reason });
  });
  it('that were moved earlier than was entered went through the warmth of the place where they were', () => {
    const shelfAndSill = (stays: Pattern['stays']) => ({
      ...lab,
      stations: [
        ...lab.stations,
        { ...lab.stations[0], id: 'sill', name: 'Sill' } as (typeof lab.stations)[0],
      ],
      probes: [
        ...lab.probes,
        { ...lab.probes[0], id: 'sill-probe', station: 'sill' } as (typeof lab.probes)[0],
      ],
      patterns: [{ ...pattern, stays }],
    });
    const at = (hours: number) => new Date(START + hours * 3_600_000).toISOString();
    const before = shelfAndSill(pattern.stays);
    const warm = every(600, 0, 10 * HOUR, () => 30).map((entry) =>
      entry.kind === 'readings'
        ? { ...entry, readings: entry.readings.map((reading) => ({ ...reading, probe: 'sill-probe' })) }
        : entry,
    );
    const entries = [...days.slice(0, 60), ...warm].toSorted(
      (first, second) => first.receivedAt - second.receivedAt,
    );
    const { state } = waxWatch.stepAll(waxWatch.initial(), entries, before);
    const moved = shelfAndSill([
      { station: 'place', from: at(0), to: at(2) },
      { station: 'sill', from: at(2), to: null },
    ]);
    const now = START + 10.5 * 3_600_000;
    const next = every(600, 10 * HOUR, 10.2 * HOUR, () => 30).map((entry) =>
      entry.kind === 'readings'
        ? { ...entry, readings: entry.readings.map((reading) => ({ ...reading, probe: 'sill-probe' })) }
        : entry,
    );
    const placed = waxWatch.stepAll(state, next, moved).state;
    const [shelf, sill] = [patternOutlooks(state, before, now), patternOutlooks(placed, moved, now)].map(
      ([outlook]) => outlook?.verdict.permanent?.likely ?? 0,
    );
    expect(sill).toBeGreaterThan(1.2 * (shelf ?? 0));
  });
  it('that were registered late went through what their place had measured since they were made', () => {
    const warmBefore = every(600, 0, 10 * HOUR, (second) => (second < 9 * HOUR ? 32 : 20));
    const next = every(600, 10.2 * HOUR, 10.4 * HOUR, () => 20);
    const late = waxWatch.stepAll(run(warmBefore, shelf).state, next, lab).state;
    const early = run([...warmBefore, ...next], lab).state;
    const likely = (state: typeof late): number =>
      patternOutlooks(state, lab, START + 10.5 * 3_600_000)[0]?.verdict.permanent?.likely ?? 0;
    expect(likely(early)).toBeGreaterThan(10);
    expect(likely(late) / likely(early)).toBeCloseTo(1, 1);
  });
  it('whose end is taken back have their whole heat again, also of the time in between', () => {
    const warm = every(600, 0, 10 * HOUR, () => 30);
    const between = every(600, 10.2 * HOUR, 14 * HOUR, () => 30);
    const next = every(600, 14.2 * HOUR, 14.4 * HOUR, () => 20);
    const ended = waxWatch.stepAll(run(warm, lab).state, [tickAt(10.1 * HOUR), ...between], shelf).state;
    const resumed = waxWatch.stepAll(ended, next, lab).state;
    const never = run([...warm, ...between, ...next], lab).state;
    const likely = (state: typeof ended): number =>
      patternOutlooks(state, lab, START + 14.5 * 3_600_000)[0]?.verdict.permanent?.likely ?? 0;
    expect(likely(never)).toBeGreaterThan(10);
    expect(likely(resumed) / likely(never)).toBeCloseTo(1, 1);
    expect(likely(ended) / likely(never)).toBeGreaterThan(0.8);
  });
  it('are judged anew at the same instant when an act is undone on which later ones rest', () => {
    const act = (kind: 'chilled' | 'sprued', minute: number) => {
      const at = new Date(START + 10 * 3_600_000 + minute * 60_000).toISOString();
      return { id: kind, kind, at, recordedAt: at, by: 'Mira', ...(kind === 'chilled' && { celsius: 5 }) };
    };
    const withActs = (...acts: readonly ReturnType<typeof act>[]) =>
      place('shelf', { patterns: [{ ...pattern, tolerance_micrometres: 4000, acts }] });
    const both = withActs(act('chilled', 1), act('sprued', 2));
    const readings = every(60, 9.9 * HOUR, 10.1 * HOUR, () => 22);
    const isUntil = (minute: number) => (_: unknown, index: number) => index <= 6 + minute;
    const before = run(readings.filter(isUntil(3)), both).state;
    const verdictIn = (state: typeof before) => state['pattern:w1']?.outlook?.verdict;
    expect(verdictIn(before)?.reason).toBe('cold');
    const after = waxWatch.stepAll(before, readings.slice(10, 12), withActs(act('sprued', 2))).state;
    expect(verdictIn(after)?.at).toBe(verdictIn(before)?.at);
    expect(verdictIn(after)?.reason).toBe('within-tolerance');
  });
  it('have of an earlier instant the verdict of then, whatever was measured since', () => {
    const friday = outlookAfter(days.slice(0, 61), lab, 10);
    const hot = every(600, 10.5 * HOUR, 48 * HOUR, () => 30);
    const { state } = run([...days.slice(0, 63), ...hot], lab);
    const asOf = START + 10 * 3_600_000;
    const [then] = patternOutlooks(state, lab, START + 48 * 3_600_000, { pattern: 'w1', asOf });
    const [now] = patternOutlooks(state, lab, START + 48 * 3_600_000);
    expect(then?.verdict.at).toBe(asOf);
    expect(then?.verdict.permanent?.likely ?? 0).toBeCloseTo(friday?.verdict.permanent?.likely ?? -1, 6);
    expect(then?.minutesTooWarm).toBe(friday?.minutesTooWarm);
    expect(now?.verdict.permanent?.likely ?? 0).toBeGreaterThan((then?.verdict.permanent?.likely ?? 0) * 1.5);
  });
  it('have no alarm once they ended, and are forgotten a week later', () => {
    const { state } = run(days, lab);
    const after = waxWatch.stepAll(state, [tickAt(48 * HOUR + 1)], shelf).state;
    expect(after['pattern:w1']).toMatchObject({ conditions: {}, outlook: null });
    const later = waxWatch.stepAll(after, [tickAt((48 + 24 * 7) * HOUR + 1)], shelf).state;
    expect(later['pattern:w1']).toBeUndefined();
    expect(later['course:w1']).toBeUndefined();
    expect(waxWatch.openAlarms(after).filter(({ rule, active }) => rule === 'pattern-due' && active)).toEqual(
      [],
    );
  });
});
