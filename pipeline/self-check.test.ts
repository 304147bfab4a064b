import { describe, expect, it } from 'vitest';
import { epochMillis } from '../wax/units.ts';
import { changedResults, setAsideProblems, type SelfCheckResult } from './self-check.ts';

const result = (ok: boolean): SelfCheckResult => ({ part: 'store', name: '', ok, detail: '' });

describe('the watcher of the watcher', () => {
  it('says nothing while all is well, nor the same thing twice', () => {
    expect(changedResults(new Map(), [result(true)])).toEqual([]);
    expect(changedResults(new Map([['store/', false]]), [result(false)])).toEqual([]);
  });
  it('says when something breaks and when it is well again', () => {
    expect(changedResults(new Map(), [result(false)])).toHaveLength(1);
    expect(changedResults(new Map([['store/', false]]), [result(true)])).toHaveLength(1);
  });
  it('reports an entry that was set aside for an hour', () => {
    const setAside = { at: epochMillis(1_000_000), kind: 'tick', reason: 'a mistake' } as const;
    const problemsAt = (millis: number) =>
      setAsideProblems(setAside, epochMillis(millis)).map(({ code }) => code);
    expect(problemsAt(1_000_001)).toEqual(['entry-set-aside']);
    expect(problemsAt(4_599_999)).toEqual(['entry-set-aside']);
    expect(problemsAt(4_600_000)).toEqual([]);
    expect(setAsideProblems(null, epochMillis(0))).toEqual([]);
  });
});
