import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { missingCount, type SequenceRecord, withArrived } from './sequence.ts';

const arrived = (...messages: readonly (readonly number[])[]): SequenceRecord =>
  messages.reduce<SequenceRecord | undefined>(withArrived, undefined) ?? { newest: 0, missing: [] };

describe('the sweeps of a gateway', () => {
  it('are complete while they come in order', () => {
    expect(arrived([5], [6, 7], [8])).toEqual({ newest: 8, first: 5, missing: [] });
  });
  it('have a gap where numbers are left out, until they come', () => {
    expect(arrived([5], [9])).toEqual({ newest: 9, first: 5, missing: [[6, 8]] });
    expect(arrived([5], [9], [7])).toEqual({
      newest: 9,
      first: 5,
      missing: [
        [6, 6],
        [8, 8],
      ],
    });
    expect(arrived([5], [9], [6, 7, 8])).toEqual({ newest: 9, first: 5, missing: [] });
  });
  it('begin anew with a gateway that was set up anew', () => {
    expect(arrived([500], [501], [1], [2])).toEqual({ newest: 2, first: 1, missing: [] });
  });
  it('are complete where a gateway sends the present before what it kept until it was connected', () => {
    expect(arrived([5], [1, 2, 3, 4], [6])).toEqual({ newest: 6, first: 1, missing: [] });
    expect(arrived([5], [1, 2, 3, 4], [6], [1], [2])).toEqual({ newest: 2, first: 1, missing: [] });
  });
  it('in any order and any repetition leave missing exactly what never came', () => {
    const numbers = fc.uniqueArray(fc.integer({ min: 2, max: 60 }), { minLength: 1, maxLength: 60 });
    fc.assert(
      fc.property(numbers, fc.array(fc.nat(59)), (came, repeated) => {
        const all = [...came, ...repeated.flatMap((index) => came[index % came.length] ?? [])];
        const record = arrived([1], ...all.map((number) => [number]));
        expect(record.newest).toBe(Math.max(...came));
        expect(missingCount(record)).toBe(record.newest - 1 - came.length);
      }),
    );
  });
});
