import { describe, expect, it } from 'vitest';
import type { Lab } from '../../../lab/lab.ts';
import { unchanging } from '../../../lab/database/past-lab.ts';
import type { Reading } from '../../../lab/reading.ts';
import { celsius, epochMillis } from '../../../wax/units.ts';
import { actAt, dipPot, labOf, potLab, probeOf, START } from '../../../tests/rehearsal.ts';
import { countDifferences } from './compare-raised.ts';
import { entryMaker } from './entry-maker.ts';
import { startReplay } from './replay.ts';
import { type Change, type Trial, trialInSlices } from './trial.ts';

const make = (readings: readonly Reading[]) =>
  entryMaker({ gatewayOf: () => 'g1' })(readings, epochMillis(START + 11 * 3_600_000));

const trial = (past: readonly Reading[], lab: Lab, change: Change): Trial => {
  const work = trialInSlices(make(past), unchanging(lab), change);
  for (;;) {
    const step = work.next();
    if (step.done === true) return step.value;
  }
};

/** Eleven humps an hour apart: three higher than the other eight. */
const humps = (probe: string, high: number, lower: number): readonly Reading[] =>
  Array.from({ length: 11 * 60 }, (_, minute) => {
    const top = Math.floor(minute / 60) % 4 === 0 ? high : lower;
    const height = minute % 60 < 10 ? top : 90;
    return { probe, at: epochMillis(START + minute * 60_000), celsius: celsius(height), quality: 'good' };
  });
const readings = humps('p1', 104, 101);

describe('what another figure would have raised', () => {
  it('is counted on the same readings: 3 instead of 11', () => {
    const change = { stations: ['pot-1'], rule: 'fire-risk' as const, values: { limit_celsius: 155 } };
    const { after, before, differences } = trial(humps('p1', 156, 153), potLab(), change);
    expect([before.length, after.length]).toEqual([11, 3]);
    expect(countDifferences(differences)).toEqual({ same: 3, earlier: 0, later: 0, more: 0, fewer: 8 });
  });

  it('gives the instants, and does not need the readings in order', () => {
    const change = { stations: ['pot-1'], rule: 'over-ceiling' as const, values: { on_delay_seconds: 60 } };
    const { after } = trial([...readings].reverse(), potLab(), change);
    expect(after).toHaveLength(11);
    expect(after[0]?.from).toBe(START + 60_000);
  });

  it('gives an alarm later with a longer delay', () => {
    const change = { stations: ['pot-1'], rule: 'over-ceiling' as const, values: { on_delay_seconds: 60 } };
    const first = trial(readings, potLab(), change);
    const delayed = { ...change, values: { on_delay_seconds: 0 } };
    expect(countDifferences(trial(readings, potLab(), delayed).differences)).toMatchObject({ more: 0 });
    expect(first.after.every(({ from }, index) => from >= (first.before[index]?.from ?? 0))).toBe(true);
  });

  it('covers all the stations that are given at once', () => {
    const second = { ...dipPot, id: 'pot-2', name: 'Pot 2' };
    const lab = labOf([dipPot, second], [probeOf('p1', 'pot-1'), probeOf('p2', 'pot-2')]);
    const change = { rule: 'fire-risk' as const, values: { limit_celsius: 155 } };
    const past = [...humps('p1', 156, 153), ...humps('p2', 153, 153)];
    const both = trial(past, lab, { ...change, stations: ['pot-1', 'pot-2'] });
    expect([both.before.length, both.after.length]).toEqual([22, 3]);
    const alone = trial(past, lab, { ...change, stations: ['pot-2'] });
    expect([alone.before.length, alone.after.length]).toEqual([11, 0]);
  });

  it('is nothing at a station without readings', () => {
    const change = { stations: ['pot-2'], rule: 'over-ceiling' as const, values: {} };
    expect(trial(readings, potLab(), change)).toEqual({ before: [], after: [], differences: [] });
  });
});

describe('a replay', () => {
  const acknowledged = (second: number) =>
    actAt(second, { type: 'acknowledge', alarm: `pot-1.over-ceiling.${START}`, by: 'Mira' });

  it('is the same however its entries are cut, with what people did', () => {
    const entries = [...make(readings), acknowledged(11 * 3600)];
    const whole = startReplay(unchanging(potLab()));
    whole.take(entries);
    const cut = startReplay(unchanging(potLab()));
    for (let from = 0; from < entries.length; from += 7) cut.take(entries.slice(from, from + 7));
    expect(cut.raised()).toEqual(whole.raised());
    expect(whole.raised().filter(({ rule }) => rule === 'over-ceiling')).toHaveLength(11);
  });

  it('lets an acknowledgement reach the alarm of the same rule there, raised at another time', () => {
    const hot = readings.map((reading) => ({ ...reading, celsius: celsius(104) }));
    const comings = (acts: Parameters<typeof make>[0], withAct: boolean) => {
      const entries = make(acts);
      const middle = entries.findIndex(({ receivedAt }) => receivedAt > START + 3600_000);
      const replay = startReplay(unchanging(potLab()));
      replay.take(entries.slice(0, middle));
      if (withAct) replay.take([acknowledged(3600)]);
      replay.take(entries.slice(middle));
      return replay.changes().filter(({ kind }) => kind === 'raised-again').length;
    };
    // Acknowledged and still so, it is raised again after half an hour.
    expect([comings(hot, false), comings(hot, true)]).toEqual([0, 1]);
  });
});
