import { describe, expect, it } from 'vitest';
import { isHidden } from '../alerts/watch/life/alarm-state.ts';
import { problem } from '../wax/result.ts';
import { type EpochMillis, epochMillis } from '../wax/units.ts';
import { NOTHING_UNRECORDED, type UnrecordedState, unrecordedStep } from './unrecorded-alarm.ts';

const AT = 1_764_000_000_000;
const FULL = problem('journal-disk-full', { folder: 'data/journal' });
const at = (seconds: number): EpochMillis => epochMillis(AT + seconds * 1000);

/** Steps second by second; returns what people were notified of, with the second. */
const notices = (from: UnrecordedState, seconds: readonly [first: number, last: number], isFull: boolean) => {
  let state = from;
  const sent: [second: number, kind: string][] = [];
  for (let second = seconds[0]; second <= seconds[1]; second += 1) {
    const step = unrecordedStep(state, isFull ? FULL : null, at(second));
    state = step.state;
    if (step.notice !== null) sent.push([second, step.notice]);
  }
  return { state, sent };
};

describe('the alarm of a disk that cannot be written', () => {
  it('is raised once after ten seconds, and people are notified again every ten minutes', () => {
    const { state, sent } = notices(NOTHING_UNRECORDED, [0, 1300], true);
    expect(sent).toEqual([
      [10, 'raised'],
      [610, 'still-open'],
      [1210, 'still-open'],
    ]);
    expect(state.alarm).toMatchObject({ rule: 'disk-failing', active: true, acknowledged: false, count: 1 });
    expect(String(state.alarm?.evidence.detail)).toContain('journal-disk-full');
    expect(state.alarm !== null && isHidden(state.alarm)).toBe(false);
  });

  it('is not raised by a disk that refuses for a moment', () => {
    const { state, sent } = notices(NOTHING_UNRECORDED, [0, 9], true);
    expect(sent).toEqual([]);
    expect(notices(state, [10, 40], false)).toEqual({ state: NOTHING_UNRECORDED, sent: [] });
  });

  it('ends when the disk takes entries again, and need not be acknowledged then', () => {
    const { state } = notices(NOTHING_UNRECORDED, [0, 20], true);
    const step = unrecordedStep(state, null, at(21));
    expect(step.notice).toBe('cleared');
    expect(step.state).toEqual(NOTHING_UNRECORDED);
    expect(step.changes.at(-1)).toMatchObject({
      kind: 'cleared',
      alarm: { id: state.alarm?.id, active: false, acknowledged: true, latched: false },
    });
  });
});
