import { describe, expect, it } from 'vitest';
import { changedResults, type SelfCheckResult } from './self-check.ts';

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
});
