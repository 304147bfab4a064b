import { beforeEach, describe, expect, it } from 'vitest';
import type { Entry } from '../../lab/entry.ts';
import { celsius } from '../../wax/units.ts';
import {
  gatewayOnline,
  gatewayRecord,
  type QualifyState,
  restoreQualifyState,
  seenProbes,
} from './probe-record.ts';
import { qualify } from './qualify.ts';
import { at, labWith, reading, said, run } from '../../tests/qualify-for-tests.ts';

describe('what is remembered', () => {
  it('is the newest value of every probe, late ones aside', () => {
    const { state } = run(labWith(), reading(0, 60), reading(10, 61), reading(20, 40, 'gw-1', 5));
    expect(seenProbes(state)).toEqual([
      { id: 'pot-1', gateway: 'gw-1', firstSeen: at(0), lastReadingAt: at(10), celsius: 61, quality: 'good' },
    ]);
  });

  it('is whether a gateway is online, and null before it reported', () => {
    const { state } = run(labWith(), said(0, true), said(5, false), said(0, true, 'gw-2'));
    expect(['gw-1', 'gw-2', 'gw-3'].map((id) => gatewayOnline(state, id))).toEqual([false, true, null]);
  });

  it('goes on from a state that an earlier version stored under other keys', () => {
    const stored = {
      'probe/pot-1': {
        gateway: 'gw-1',
        firstSeen: at(0),
        heardAt: at(10),
        at: at(10),
        celsius: 61,
        quality: 'good',
        lastGood: { at: at(10), raw: 61 },
        doubt: null,
      },
      'gateway/gw-1': { online: false, saidAt: at(20) },
    };
    const { state } = run(labWith(), reading(0, 60), reading(10, 61), said(20, false));
    const gateway = { online: false, reportedAt: at(20) };
    expect(restoreQualifyState(stored)).toEqual({ ...state, 'gateway/gw-1': gateway });
    expect(restoreQualifyState(state)).toEqual(state);
  });
});

describe('what was taken before', () => {
  const stored = new Map<string, number>();
  /** Steps through entries and keeps what comes of them, as the store does. */
  const taking = (before: QualifyState, ...entries: readonly Entry[]) => {
    let state = before;
    const steps = entries.map((entry) => {
      const next = { ...state };
      const step = qualify(next, entry, labWith(), (id, instant) => stored.get(`${id} ${instant}`) ?? null);
      state = next;
      const readings = step.entry?.kind === 'readings' ? step.entry.readings : [];
      for (const { probe: id, at: instant, celsius: value } of readings)
        stored.set(`${id} ${instant}`, value);
      return { readings, codes: step.rejections.map(({ code }) => code), changedParts: step.changedParts };
    });
    return { state, steps };
  };
  /** Ten seconds apart, stamped by a clock that is off by so many seconds. */
  const messages = (count: number, off: number, value = (index: number) => 60 + index / 10) =>
    Array.from({ length: count }, (_, index) => reading(index * 10, value(index), 'gw-1', index * 10 + off));
  beforeEach(() => stored.clear());

  it.each([0, 3600, -3600, 86_400])(
    'changes nothing when it is delivered again, stamped %d s off, however late; that it came again is noted',
    (off) => {
      const first = messages(20, off);
      const { state } = taking({}, ...first);
      const again = first.map((entry, index) => ({ ...entry, receivedAt: at(1000 + index) }));
      const repeated = taking(state, ...again);
      const clock = gatewayRecord(repeated.state, 'gw-1')?.clock;
      expect(clock?.repeated).toMatchObject({ messages: 20, paced: 0 });
      const { repeated: _, ...clockBefore } = clock ?? {};
      const gateway = { online: null, reportedAt: null, clock: clockBefore };
      expect({ ...repeated.state, 'gateway/gw-1': gateway }).toEqual(state);
      const changedParts = ['gateway/gw-1'];
      expect(repeated.steps).toEqual(again.map(() => ({ readings: [], codes: [], changedParts })));
    },
  );

  it('stays when another value comes for the same instant, which is named', () => {
    const { state } = taking({}, reading(0, 60), reading(10, 61));
    const { steps } = taking(state, reading(15, 99, 'gw-1', 0), reading(16, 98, 'gw-1', 10));
    expect(steps).toMatchObject([
      { readings: [], codes: ['contradicts-stored'] },
      { readings: [], codes: ['contradicts-stored'] },
    ]);
    expect([...stored.values()]).toEqual([60, 61]);
  });

  it('leaves the rest of a message that was delivered in part', () => {
    const { state } = taking({}, reading(0, 60));
    const { steps } = taking(state, {
      ...reading(10, 61),
      readings: [0, 5, 10].map((seconds) => ({
        probe: 'pot-1',
        at: at(seconds),
        celsius: celsius(seconds === 0 ? 60 : 61),
        quality: 'good' as const,
      })),
    } as Entry);
    expect(steps[0]?.readings.map((taken) => taken.at)).toEqual([at(5), at(10)]);
  });

  it('leaves the first of two values that one message has for an instant', () => {
    const twice = [60, 61].map((value) => ({
      probe: 'pot-1',
      at: at(0),
      celsius: celsius(value),
      quality: 'good' as const,
    }));
    const { steps } = taking({}, { ...reading(0, 60), readings: twice } as Entry);
    expect(steps[0]?.readings.map((taken) => taken.celsius)).toEqual([60]);
    expect(steps[0]?.codes).toEqual(['contradicts-stored']);
  });

  it('is stored at the time of the lab behind a clock that is off, with its distances', () => {
    for (const off of [3600, -3600, 86_400, -86_400]) {
      stored.clear();
      const { steps } = taking({}, ...messages(5, off));
      const instants = steps.slice(1).map(({ readings }) => readings[0]?.at ?? 0);
      const [first = 0] = instants;
      expect(instants).toEqual([0, 10_000, 20_000, 30_000].map((later) => first + later));
      expect(Math.abs(first - at(10))).toBeLessThan(2000);
    }
  });

  it('is uncertain in time until the clock has been off steadily for ten minutes', () => {
    const { steps } = taking({}, ...messages(70, 3600));
    const qualities = steps.map(({ readings }) => readings[0]?.quality);
    expect(qualities.slice(0, 60)).toEqual(Array(60).fill('uncertain-time'));
    expect(qualities.slice(61)).toEqual(Array(9).fill('good'));
  });

  it('does not hide what follows when the clock is set back over instants that are kept', () => {
    const { state } = taking({}, ...messages(100, 0, () => 90));
    const hot = Array.from({ length: 6 }, (_, index) =>
      reading(1000 + index * 10, 160, 'gw-1', 400 + index * 10),
    );
    const { steps } = taking(state, ...hot);
    expect(steps.map(({ codes }) => codes.length)).toEqual([1, 0, 0, 0, 0, 0]);
    const late = steps.slice(1).map(({ readings }, index) => at(1010 + index * 10) - (readings[0]?.at ?? 0));
    expect(late.every((millis) => millis >= 0 && millis < 2000)).toBe(true);
  });
});
