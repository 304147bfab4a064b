import { describe, expect, it } from 'vitest';
import { type SelfCheckFinding, newFindings } from './self-check.ts';

const finding = (ok: boolean): SelfCheckFinding => ({ part: 'store', name: '', ok, detail: '' });

describe('the watcher of the watcher', () => {
  it('says nothing while all is well, nor the same thing twice', () => {
    expect(newFindings(new Map(), [finding(true)])).toEqual([]);
    expect(newFindings(new Map([['store/', false]]), [finding(false)])).toEqual([]);
  });
  it('says when something breaks and when it is well again', () => {
    expect(newFindings(new Map(), [finding(false)])).toHaveLength(1);
    expect(newFindings(new Map([['store/', false]]), [finding(true)])).toHaveLength(1);
  });
});
