// A data folder of the first layout: what the watch of that version remembered after thirty hours of a small lab.

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  actAt,
  dipPot,
  instant,
  labOf,
  probeOf,
  readingOf,
  START,
  tickAt,
} from '../../../../tests/rehearsal.ts';
import { alarmStateCode } from '../../life/alarm-state.ts';
import { mktStart } from '../../../../wax/heat/mean-kinetic-temperature.ts';
import { rainflowStart } from '../../../../wax/numbers/rainflow.ts';
import { seconds } from '../../../../wax/units.ts';
import { patternOutlooks, waxWatch } from '../../wax-watch.ts';
import type { WatchState } from '../state/memory.ts';
import { restoreWatch } from './restore.ts';

const stored: Readonly<Record<string, unknown>> = JSON.parse(
  readFileSync(join(import.meta.dirname, '../../../../tests/data/watch-state-layout-1.json'), 'utf8'),
);
const HOUR = 3600;
const END = 30 * HOUR;
const lab = labOf(
  [
    dipPot,
    { ...dipPot, id: 'pot-2', name: 'Dip pot 2' },
    { id: 'shelf-1', name: 'Shelf 1', kind: 'shelf', wax: 'inlay-type-1' },
    {
      id: 'annealer-1',
      name: 'Annealer 1',
      kind: 'annealer',
      wax: 'inlay-type-1',
      window_celsius: [45, 55],
      ceiling_celsius: 60,
    },
  ],
  [
    probeOf('p1', 'pot-1'),
    probeOf('p2', 'pot-2', { gateway: 'g2' }),
    probeOf('s1', 'shelf-1', { gateway: 'g2' }),
    probeOf('a1', 'annealer-1'),
  ],
  {
    waxOverrides: { 'inlay-type-1': { storageMax: 25 } },
    patterns: [
      {
        id: 'w1',
        caseReference: 'case 1',
        wax: 'inlay-type-1',
        technique: 'layered',
        fate: null,
        length_millimetres: 40,
        tolerance_micrometres: 400,
        madeAt: new Date(START).toISOString(),
        madeBy: 'Mira',
        stays: [{ station: 'shelf-1', from: new Date(START).toISOString(), to: null }],
      },
    ],
  },
);
const { state } = restoreWatch(stored);
const openCodes = (after: WatchState) =>
  waxWatch
    .openAlarms(after)
    .filter(({ active }) => active)
    .map((alarm) => `${alarm.subject} ${alarm.rule} ${alarmStateCode(alarm)}`)
    .sort();
const statusOf = (after: WatchState, station: string) =>
  waxWatch.statuses(after, lab).find((status) => status.station === station);
const cooled = [
  ...[30, 60, 90, 120, 150, 180].flatMap((second) => [
    readingOf('p1', END + second, 90),
    readingOf('s1', END + second, 24, { gateway: 'g2' }),
    readingOf('a1', END + second, 50),
    tickAt(END + second + 0.5),
  ]),
];

describe('what the first layout stored', () => {
  it('is read whole', () => {
    const { unread, unsaved } = restoreWatch(stored);
    expect(unread).toEqual({});
    expect(Object.keys(unsaved)).toEqual(expect.arrayContaining(['layout', 'past:pot-1', 'history:pot-1']));
    expect(unsaved['past:pot-1']).toBeUndefined();
  });

  it('keeps the dose of each charge, its hours since cleaning and what a top-up may be taken back to', () => {
    // As the earlier version showed them.
    expect(statusOf(state, 'pot-1')?.doseEquivalentHours).toBeCloseTo(24.787550217709562, 9);
    expect(statusOf(state, 'pot-2')?.doseEquivalentHours).toBeCloseTo(8.019841432318751, 9);
    expect(state['station:pot-1']).toMatchObject({ hotHoursBefore: -4, earlierCharges: [{ act: 'top-1' }] });
    const back = actAt(END + 10, { type: 'charge-taken-back', station: 'pot-1', id: 'top-1', by: 'Mira' });
    const step = waxWatch.stepAll(state, [back], lab);
    expect(step.refusals).toEqual([]);
    expect(statusOf(step.state, 'pot-1')?.doseEquivalentHours).toBeGreaterThan(27);
  });

  it('keeps what people planned and laid in, and how waiting patterns have aged', () => {
    expect(state['station:pot-2']).toMatchObject({ plannedOff: true });
    expect(state['station:annealer-1']).toMatchObject({ load: { load: 'ten sticks' } });
    const [outlook] = patternOutlooks(state, lab, instant(END));
    expect(outlook).toMatchObject({ pattern: 'w1', minutesTooWarm: 180 });
    expect(outlook?.verdict.permanent?.likely).toBeGreaterThan(10);
  });

  it('keeps open alarms with who acknowledged them, and ends them when their conditions are gone', () => {
    expect(openCodes(state)).toEqual(
      expect.arrayContaining([
        'channel-email channel-failing B',
        'p2 probe-silent B',
        'pot-1 over-ceiling C',
        'shelf-1 storage-warm B',
      ]),
    );
    const still = waxWatch.stepAll(state, [readingOf('p1', END + 30, 104), tickAt(END + 31)], lab);
    expect(still.findings.filter(({ rule }) => rule === 'over-ceiling')).toEqual([]);
    expect(openCodes(still.state)).toContain('pot-1 over-ceiling C');
    const after = waxWatch.stepAll(state, cooled, lab);
    expect(openCodes(after.state)).not.toContain('pot-1 over-ceiling C');
    expect(after.alarmChanges).toContainEqual(
      expect.objectContaining({
        kind: 'cleared',
        alarm: expect.objectContaining({ id: `pot-1.over-ceiling.${instant(END - 540)}` }),
      }),
    );
    const check = { kind: 'self-check', part: 'channel', name: 'email', ok: true, detail: '' } as const;
    const well = waxWatch.stepAll(state, [{ ...check, receivedAt: instant(END + 5) }], lab);
    expect(openCodes(well.state)).not.toContain('channel-email channel-failing B');
  });

  it('blames no probe for the time before, and keeps the silence that was announced', () => {
    const { findings, state: after } = waxWatch.stepAll(state, [tickAt(END + 40), tickAt(END + 50)], lab);
    expect(findings.filter(({ subjectKind }) => subjectKind !== 'pattern')).toEqual([]);
    expect(openCodes(after)).toContain('p2 probe-silent B');
  });

  it('goes on the same after it was stored and read in its new form', () => {
    const { unsaved } = restoreWatch(stored);
    const rows = Object.entries(JSON.parse(JSON.stringify(unsaved)));
    const again = restoreWatch(Object.fromEntries(rows));
    expect(again).toEqual({ state, unsaved: {}, unread: {} });
    expect(waxWatch.stepAll(again.state, cooled, lab)).toEqual(waxWatch.stepAll(state, cooled, lab));
  });

  it('is kept aside, part by part, where it cannot be read', () => {
    const broken = { ...stored, 'station:pot-2': { at: 'noon', probes: {} }, 'gateway:g9': null };
    const restored = restoreWatch(broken);
    expect(restored.unread).toEqual({ 'station:pot-2': { at: 'noon', probes: {} } });
    expect(restored.state['station:pot-2']).toBeUndefined();
    expect(restored.unsaved).toHaveProperty('station:pot-2', undefined);
    expect(restored.state['station:pot-1']).toEqual(state['station:pot-1']);
  });
});

describe('what the second layout stored', () => {
  const heat = {
    relaxation: {
      reducedSeconds: 90_000,
      gapReducedSeconds: 0,
      gapReducedMost: 0,
      gapSeconds: 0,
      at: instant(END),
      celsius: 24,
      readings: 900,
      refused: 0,
    },
    mkt: mktStart({ longestGap: seconds(900) }),
    rainflow: rainflowStart(),
    fittedCelsius: 22,
    swings: 1,
    largestSwing: 3,
    minutesTooWarm: 60,
    outlook: null,
    outlookAt: 0,
    conditions: {},
  };
  it('keeps how patterns have aged, and goes on from there', () => {
    const { state: carried, unread } = restoreWatch({ layout: 2, 'pattern:w1': heat });
    expect(unread).toEqual({});
    const [outlook] = patternOutlooks(carried, lab, instant(END));
    expect(outlook).toMatchObject({ minutesTooWarm: 60, swings: 1, largestSwingCelsius: 3 });
    // 90 000 s over 86 400 s, ^0.5 = 1.0206: 0.6396 · 0.003 · 40 000 = 76.8 µm.
    expect(outlook?.verdict.permanent?.likely).toBeCloseTo(76.8, 1);
    const later = waxWatch.stepAll(carried, cooled, lab).state;
    const [aged] = patternOutlooks(later, lab, instant(END + 600));
    expect(aged?.verdict.permanent?.likely).toBeGreaterThan(76.8);
  });
  it('is kept aside where a pattern cannot be read', () => {
    const restored = restoreWatch({ layout: 2, 'pattern:w1': { relaxation: 'old' } });
    expect(restored.unread).toEqual({ 'pattern:w1': { relaxation: 'old' } });
    expect(restored.unsaved).toMatchObject({ layout: 3 });
  });
});

describe('the present layout', () => {
  it('is marked in a new state, and read as it is', () => {
    expect(restoreWatch({})).toEqual({ state: { layout: 3 }, unsaved: { layout: 3 }, unread: {} });
    const entries = [readingOf('p1', 0, 90), readingOf('p1', 10, 101), readingOf('p1', 20, 101), tickAt(21)];
    const present = waxWatch.stepAll(restoreWatch({}).state, entries, lab).state;
    expect(restoreWatch(JSON.parse(JSON.stringify(present)))).toEqual({
      state: present,
      unsaved: {},
      unread: {},
    });
  });
});
