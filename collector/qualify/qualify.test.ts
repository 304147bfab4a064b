// How readings are judged, in the order in which they came.

import { beforeEach, describe, expect, it } from 'vitest';
import type { Entry } from '../../lab/entry.ts';
import type { Lab, Probe } from '../../lab/lab.ts';
import type { StationKind } from '../../lab/station-kinds.ts';
import { celsius, epochMillis } from '../../wax/units.ts';
import { gatewayOnline, type QualifyState, restoreQualifyState, seenProbes } from './probe-record.ts';
import { qualify } from './qualify.ts';

/** The step on a copy, so that the state before stays as it was. */
const qualifyStep = (before: QualifyState, entry: Entry, lab: Lab) => {
  const state = { ...before };
  return { ...qualify(state, entry, lab, () => null), state };
};

const START = Date.UTC(2026, 5, 1, 8);
const at = (seconds: number) => epochMillis(START + seconds * 1000);
const closed = [] as const;
const labWith = (...probes: readonly Probe[]): Lab => ({
  site: {
    id: 'lab-1',
    name: 'Lab',
    timeZone: 'Europe/Berlin',
    workingHours: {
      mon: closed,
      tue: closed,
      wed: closed,
      thu: closed,
      fri: closed,
      sat: closed,
      sun: closed,
    },
    holidays: [],
  },
  stations: [],
  probes,
  charges: [],
  patterns: [],
  people: [],
  waxOverrides: {},
});
const probe = (more: Partial<Probe> = {}): Probe => ({
  id: 'pot-1',
  gateway: 'gw-1',
  station: null,
  correction_celsius: 0,
  uncertainty_celsius: 0.5,
  ...more,
});
const reading = (seconds: number, value: number, gateway = 'gw-1', measured = seconds): Entry => ({
  kind: 'readings',
  receivedAt: at(seconds),
  gateway,
  readings: [{ probe: 'pot-1', at: at(measured), celsius: celsius(value), quality: 'good' }],
});
const said = (seconds: number, online: boolean, gateway = 'gw-1'): Entry => ({
  kind: 'gateway',
  receivedAt: at(seconds),
  gateway,
  online,
});

const run = (lab: Lab, ...entries: readonly Entry[]) => {
  let state: QualifyState = {};
  const outcomes: string[] = [];
  for (const entry of entries) {
    const step = qualifyStep(state, entry, lab);
    for (const part of Object.keys(step.state))
      expect(step.changedParts.includes(part)).toBe(step.state[part] !== state[part]);
    // Parts are persisted, so what JSON cannot carry must not matter.
    state = JSON.parse(JSON.stringify(step.state)) as QualifyState;
    if (entry.kind !== 'readings') continue;
    const [kept] = step.entry?.kind === 'readings' ? step.entry.readings : [];
    outcomes.push(kept === undefined ? (step.rejections[0]?.code ?? 'nothing') : kept.quality);
  }
  return { outcomes, state };
};
const outcomes = (...entries: readonly Entry[]) => run(labWith(), ...entries).outcomes;

describe('correction and plausibility', () => {
  it('follows the curve of a calibration at several temperatures', () => {
    const calibration = {
      day: '2031-02-03',
      points: [
        { reading_celsius: 0, reference_celsius: 0.4 },
        { reading_celsius: 100, reference_celsius: 99 },
      ],
      reference_uncertainty_celsius: 0.1,
    };
    const step = qualifyStep({}, reading(0, 50), labWith(probe({ calibration })));
    expect(step.entry).toMatchObject({ readings: [{ celsius: 49.7 }] });
  });
  it('adds the correction of the last calibration', () => {
    const step = qualifyStep({}, reading(0, 60), labWith(probe({ correction_celsius: -0.75 })));
    expect(step.entry).toMatchObject({ readings: [{ celsius: 59.25, quality: 'good' }] });
  });

  it.each([
    [-40, 'good'],
    [-40.01, 'suspect'],
    [500, 'good'],
    [500.01, 'suspect'],
  ])('%d °C is %s', (value, quality) => {
    expect(outcomes(reading(0, value))).toEqual([quality]);
  });

  it.each<[StationKind, number, string]>([
    ['burnout-furnace', 500.01, 'good'],
    ['burnout-furnace', 1200, 'good'],
    ['burnout-furnace', 1200.01, 'suspect'],
    ['melt-pot', 500.01, 'suspect'],
  ])('a reading in a %s of %d °C is %s', (kind, value, quality) => {
    const lab = labWith(probe({ station: 'place' }));
    const stations = [{ id: 'place', name: 'Place', kind, wax: null }];
    expect(run({ ...lab, stations }, reading(0, value)).outcomes).toEqual([quality]);
  });

  it('passes ticks and acts through untouched', () => {
    const tick: Entry = { kind: 'tick', receivedAt: at(0) };
    expect(qualifyStep({}, tick, labWith())).toEqual({
      state: {},
      changedParts: [],
      entry: tick,
      rejections: [],
    });
  });
});

describe('85.000 °C', () => {
  it('as the first word of a probe is suspect, and the next value is good', () => {
    expect(outcomes(reading(0, 85), reading(10, 21.5))).toEqual(['suspect', 'good']);
  });

  it('as a jump that no heater makes is suspect', () => {
    expect(outcomes(reading(0, 21.5), reading(10, 85), reading(20, 21.5))).toEqual([
      'good',
      'suspect',
      'good',
    ]);
  });

  it('after a start of the gateway is suspect however slow the jump', () => {
    expect(outcomes(reading(0, 21.5), said(590, true), reading(600, 85), reading(610, 21.5))).toEqual([
      'good',
      'suspect',
      'good',
    ]);
  });

  it('that a pot reaches by heating is good', () => {
    expect(outcomes(reading(0, 84), reading(10, 84.5), reading(20, 85), reading(30, 85.5))).toEqual(
      Array(4).fill('good'),
    );
  });

  it('of a pot that was at 85 before its gateway restarted is good', () => {
    expect(outcomes(reading(0, 84.9375), said(30, true), reading(40, 85))).toEqual(['good', 'good']);
  });

  it('that is reached slowly between rare readings is good', () => {
    expect(outcomes(reading(0, 25), reading(600, 85))).toEqual(['good', 'good']);
  });

  it('that stays for five readings and two minutes is believed', () => {
    const stays = [0, 30, 60, 90, 120, 150].map((seconds) => reading(seconds, 85));
    expect(outcomes(...stays)).toEqual(['suspect', 'suspect', 'suspect', 'suspect', 'good', 'good']);
  });

  it('that stays is not believed before two minutes, however many readings', () => {
    const stays = [0, 10, 20, 30, 40, 119, 120].map((seconds) => reading(seconds, 85));
    expect(outcomes(...stays)).toEqual([...Array(6).fill('suspect'), 'good']);
  });

  it.each([84.9375, 85.0625])('is the only value doubted: %d is good', (value) => {
    expect(outcomes(reading(0, 21.5), reading(10, value))).toEqual(['good', 'good']);
  });

  it('from a probe that is of another kind is good', () => {
    expect(run(labWith(probe({ powersOnAt85: false })), reading(0, 85)).outcomes).toEqual(['good']);
  });

  it('is recognised before the correction is added', () => {
    expect(run(labWith(probe({ correction_celsius: 0.3 })), reading(0, 85)).outcomes).toEqual(['suspect']);
  });
});

describe('one probe id from two gateways', () => {
  it('belongs to the first while it is alive', () => {
    expect(outcomes(reading(0, 60), reading(10, 20, 'gw-2'), reading(20, 60.1))).toEqual([
      'good',
      'probe-of-another-gateway',
      'good',
    ]);
  });

  it.each([
    [599, 'probe-of-another-gateway'],
    [600, 'good'],
  ])('goes over when the first was silent for ten minutes: after %d s it is %s', (seconds, outcome) => {
    expect(outcomes(reading(0, 60), reading(seconds, 20, 'gw-2'))).toEqual(['good', outcome]);
  });

  it('goes over at once when the first has said that it is offline', () => {
    expect(outcomes(reading(0, 60), said(5, false), reading(10, 20, 'gw-2'))).toEqual(['good', 'good']);
  });

  it('stays with the first when its offline is older than its newest reading', () => {
    expect(outcomes(said(0, false), reading(1, 60), reading(10, 20, 'gw-2'))).toEqual([
      'good',
      'probe-of-another-gateway',
    ]);
  });

  it('belongs to the gateway that the lab names, whoever was first', () => {
    const lab = labWith(probe({ gateway: 'gw-2' }));
    expect(run(lab, reading(0, 60), reading(10, 20, 'gw-2'), reading(20, 60)).outcomes).toEqual([
      'good',
      'good',
      'probe-of-another-gateway',
    ]);
  });

  it('leaves nothing behind when it is refused, and says who owns it', () => {
    const { state } = run(labWith(), reading(0, 60));
    const step = qualifyStep(state, reading(10, 20, 'gw-2'), labWith());
    expect(step).toMatchObject({ state, changedParts: [], entry: null });
    expect(step.rejections[0]?.values).toEqual({ probe: 'pot-1', owner: 'gw-1', gateway: 'gw-2' });
  });
});

describe('what is remembered', () => {
  it('is the newest value of every probe, late ones aside', () => {
    const { state } = run(labWith(), reading(0, 60), reading(10, 61), reading(20, 40, 'gw-1', 5));
    expect(seenProbes(state)).toEqual([
      { id: 'pot-1', gateway: 'gw-1', firstSeen: at(0), lastReadingAt: at(10), celsius: 61, quality: 'good' },
    ]);
  });

  it('is whether a gateway is online, and null before it said', () => {
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
    'changes nothing when it is delivered again, stamped %d s off, however late',
    (off) => {
      const first = messages(20, off);
      const { state } = taking({}, ...first);
      const again = first.map((entry, index) => ({ ...entry, receivedAt: at(1000 + index) }));
      const repeated = taking(state, ...again);
      expect(repeated.state).toEqual(state);
      expect(repeated.steps).toEqual(again.map(() => ({ readings: [], codes: [], changedParts: [] })));
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
    expect(steps[0]?.readings.map((kept) => kept.at)).toEqual([at(5), at(10)]);
  });

  it('leaves the first of two values that one message has for an instant', () => {
    const twice = [60, 61].map((value) => ({
      probe: 'pot-1',
      at: at(0),
      celsius: celsius(value),
      quality: 'good' as const,
    }));
    const { steps } = taking({}, { ...reading(0, 60), readings: twice } as Entry);
    expect(steps[0]?.readings.map((kept) => kept.celsius)).toEqual([60]);
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
