import { describe, expect, it } from 'vitest';
import { epochMillis } from '../../../wax/units.ts';
import { conditionStep, type ConditionTimes, type Holding } from './condition-timer.ts';

const TIMES: ConditionTimes = { onDelayMillis: 0, offDelayMillis: 0, fewestSamples: 1, updateStep: 1 };
const momentAt = (second: number) =>
  ({ at: epochMillis(second * 1000), tense: 'now', afterGap: false }) as const;

describe('the evidence of a condition', () => {
  it('is put together when the condition begins and when it got worse, and not while it only goes on', () => {
    const asked: string[] = [];
    const holding = (when: string, worst: number): Holding => ({
      get evidence() {
        asked.push(when);
        return { how: when };
      },
      worst,
    });
    const begun = conditionStep(null, holding('begun', 0), momentAt(1), TIMES);
    const goesOn = conditionStep(begun.state, holding('goes on', 0), momentAt(2), TIMES);
    const worse = conditionStep(goesOn.state, holding('worse', 1), momentAt(3), TIMES);
    expect(asked).toEqual(['begun', 'worse']);
    expect(goesOn).toEqual({ state: begun.state, reported: null });
    expect(worse.reported).toEqual({ phase: 'updates', tense: 'now', evidence: { how: 'worse' } });
  });
});

describe('a condition that is reported in steps', () => {
  const holding = (worst: number): Holding => ({ evidence: { value_celsius: worst }, worst });
  const stepThrough = (...evaluations: readonly (Holding | 'gone')[]) =>
    evaluations.reduce<ReturnType<typeof conditionStep>>(
      ({ state }, evaluation, second) => conditionStep(state, evaluation, momentAt(second), TIMES),
      { state: null, reported: null },
    );

  it('keeps quiet about less than a step, and states the worst when it ends', () => {
    expect(stepThrough(holding(100), holding(100.7), holding(100.2)).reported).toBeNull();
    expect(stepThrough(holding(100), holding(100.7), holding(100.2), 'gone').reported).toEqual({
      phase: 'ends',
      tense: 'now',
      evidence: { value_celsius: 100.7 },
      isWorse: true,
    });
  });

  it('counts a step from what was last reported, in however many readings it comes', () => {
    expect(stepThrough(holding(100), holding(100.7), holding(101.1)).reported).toMatchObject({
      phase: 'updates',
      evidence: { value_celsius: 101.1 },
    });
  });

  it('ends with what was last reported when it got no worse', () => {
    expect(stepThrough(holding(100), holding(101.1), 'gone').reported).toEqual({
      phase: 'ends',
      tense: 'now',
      evidence: { value_celsius: 101.1 },
    });
  });
});
