import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { missingCount, type SequenceRecord, withArrived } from './sequence.ts';

const ofBuffer = (
  ...messages: readonly (readonly [buffer: string, ...numbers: number[]])[]
): SequenceRecord =>
  messages.reduce<SequenceRecord | undefined>(
    (record, [buffer, ...numbers]) => withArrived(record, numbers, buffer),
    undefined,
  ) ?? { newest: 0, missing: [] };
const arrived = (...messages: readonly (readonly number[])[]): SequenceRecord =>
  messages.reduce<SequenceRecord | undefined>(
    (record, numbers) => withArrived(record, numbers),
    undefined,
  ) ?? { newest: 0, missing: [] };

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
  it('of a buffer are complete once all of its past has come, in however many messages and with the present between', () => {
    const begun = ofBuffer(['a', 9], ['a', 1, 2, 3], ['a', 10]);
    expect(begun).toEqual({ buffer: 'a', newest: 10, first: 1, missing: [[4, 8]] });
    const whole = withArrived(withArrived(begun, [4, 5, 6], 'a'), [7, 8], 'a');
    expect(whole).toEqual({ buffer: 'a', newest: 10, first: 1, missing: [] });
  });
  it('of a buffer whose first sweeps went elsewhere are counted from the oldest that came', () => {
    expect(ofBuffer(['a', 9], ['a', 7], ['a', 10])).toMatchObject({ first: 7, missing: [[8, 8]] });
  });
  it('of a buffer stay counted when its first one is delivered again', () => {
    expect(ofBuffer(['a', 1], ['a', 2], ['a', 3], ['a', 1], ['a', 4])).toMatchObject({
      newest: 4,
      missing: [],
    });
  });
  it('begin anew with another buffer, whichever of its numbers comes first', () => {
    expect(ofBuffer(['a', 500], ['b', 30], ['b', 1, 2])).toEqual({
      buffer: 'b',
      newest: 30,
      first: 1,
      missing: [[3, 29]],
    });
  });
  it('of a gateway that named no buffer before are counted on when it does', () => {
    expect(withArrived({ newest: 7, missing: [[5, 5]] }, [8], 'a')).toEqual({
      buffer: 'a',
      newest: 8,
      missing: [[5, 5]],
    });
  });
  it('of a buffer in any order and any repetition leave missing exactly what never came between the first and the last', () => {
    const numbers = fc.uniqueArray(fc.integer({ min: 1, max: 60 }), { minLength: 1, maxLength: 60 });
    fc.assert(
      fc.property(numbers, fc.array(fc.nat(59)), (came, repeated) => {
        const all = [...came, ...repeated.flatMap((index) => came[index % came.length] ?? [])];
        const record = ofBuffer(...all.map((number): readonly [string, number] => ['a', number]));
        expect(record).toMatchObject({ newest: Math.max(...came), first: Math.min(...came) });
        expect(missingCount(record)).toBe(Math.max(...came) - Math.min(...came) + 1 - came.length);
      }),
    );
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
