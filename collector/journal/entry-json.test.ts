import { describe, expect, it } from 'vitest';
import type { Entry, ReadingsEntry } from '../../lab/entry.ts';
import type { Reading } from '../../lab/reading.ts';
import { celsius, epochMillis } from '../../wax/units.ts';
import { entryFromJson, entryJson } from './entry-json.ts';

const at = epochMillis(1_790_000_000_123);
const reading: Reading = { probe: 'pot-1', at, quality: 'good', celsius: celsius(75.0625) };
const plain: ReadingsEntry = { kind: 'readings', receivedAt: at, gateway: 'gw_1.a', readings: [reading] };
const ofValue = (value: number): ReadingsEntry => ({
  ...plain,
  readings: [{ ...reading, celsius: celsius(value) }],
});

/** Every field that an entry of readings may have: a new one does not compile until it is here. */
const special: Required<Omit<ReadingsEntry, keyof typeof plain>> & ReadingsEntry = {
  ...plain,
  electrical: [{ probe: 'pot-2', at, quality: 'good', unit: 'Ohm', value: 107.9 }],
  isHistorical: true,
  stampedBy: 'arrival',
  timing: 'past',
  clockLagMillis: null,
  isClockUnsteady: true,
};

/** As a gateway with several probes sends them; the second is older than the first. */
const sweep = ['pot-1', 'pot-2', 'pot-3'].map((probe, index) => ({
  ...reading,
  probe,
  at: epochMillis(at + 70 * ((index * 2) % 3)),
  celsius: celsius(75 - index / 16),
}));

describe('an entry written as JSON', () => {
  it.each<[string, Entry]>([
    ['one reading', plain],
    ['several readings', { ...plain, readings: sweep }],
    [
      'instants that are no whole numbers',
      { ...plain, readings: sweep.map((each) => ({ ...each, at: epochMillis(each.at / 7) })) },
    ],
    [
      'instants as far apart as can be',
      { ...plain, readings: [reading, { ...reading, at: epochMillis(0.1) }] },
    ],
    [
      'several readings of any quality',
      { ...plain, readings: [reading, { ...reading, quality: 'suspect' }] },
    ],
    ['no reading', { ...plain, readings: [] }],
    ['all that is special', special],
    ['a value with an exponent', ofValue(1e-7)],
    ['a value with as many digits as a number holds', ofValue(0.1 + 0.2)],
    ['a value of minus nought', ofValue(-0)],
    ['a gateway whose name must be escaped', { ...plain, gateway: 'a"b\\c\n\u2028ü' }],
    ['a probe whose name must be escaped', { ...plain, readings: [{ ...reading, probe: '"' }] }],
    ['passing time', { kind: 'tick', receivedAt: at }],
  ])('with %s reads as what JSON.stringify writes', (_, entry) => {
    expect(entryFromJson(entryJson(entry))).toEqual(JSON.parse(JSON.stringify(entry)));
  });

  it.each(Object.keys(special).filter((field) => !(field in plain)))(
    'keeps %s where that alone is special',
    (field) => {
      const value = special[field as keyof ReadingsEntry];
      expect(entryFromJson(entryJson({ ...plain, [field]: value } as Entry))).toHaveProperty(field, value);
    },
  );

  it('keeps a field of a reading that its type does not know', () => {
    const damp = Object.assign({ humidity: 40 }, reading);
    const entry = { ...plain, readings: [damp, damp] };
    expect(entryFromJson(entryJson(entry))).toHaveProperty('readings.1.humidity', 40);
  });

  it('takes less than half of the bytes of JSON.stringify where a message brings several readings', () => {
    const entry = { ...plain, readings: [...sweep, ...sweep, ...sweep] };
    expect(entryJson(entry).length).toBeLessThan(JSON.stringify(entry).length / 2);
  });
});
