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
