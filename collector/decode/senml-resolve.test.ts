// The examples of RFC 8428 section 5.1 and rules of section 4, each as its own sentence.

import { describe, expect, it } from 'vitest';
import { checkPack } from './senml-record.ts';
import { resolveSenml } from './senml-resolve.ts';

const NOW = 1_700_000_000;
const resolve = (json: string) => {
  const pack = checkPack(JSON.parse(json));
  return pack.ok ? resolveSenml(pack.value, NOW) : pack.problem.code;
};
const records = (json: string) => {
  const resolved = resolve(json);
  if (typeof resolved === 'string') throw new Error(resolved);
  return resolved.records.map(({ name, unit, value, time }) => [name, unit, value, time]);
};

describe('the examples of RFC 8428', () => {
  it('5.1.1: a single datapoint is measured when it arrives', () => {
    expect(records('[{"n":"urn:dev:ow:10e2073a01080063","u":"Cel","v":23.1}]')).toEqual([
      ['urn:dev:ow:10e2073a01080063', 'Cel', 23.1, NOW],
    ]);
  });

  it('5.1.2: two datapoints share a base name', () => {
    expect(
      records(
        '[{"bn":"urn:dev:ow:10e2073a01080063:","n":"voltage","u":"V","v":120.1},{"n":"current","u":"A","v":1.2}]',
      ),
    ).toEqual([
      ['urn:dev:ow:10e2073a01080063:voltage', 'V', 120.1, NOW],
      ['urn:dev:ow:10e2073a01080063:current', 'A', 1.2, NOW],
    ]);
  });

  it('5.1.2: base unit, base time and negative times resolve in order of time', () => {
    expect(
      records(
        '[{"bn":"urn:dev:ow:10e2073a0108006:","bt":1.276020076001e+09,"bu":"A","bver":5,"n":"voltage","u":"V","v":120.1},{"n":"current","t":-5,"v":1.2},{"n":"current","t":-4,"v":1.3},{"n":"current","t":-3,"v":1.4},{"n":"current","t":-2,"v":1.5},{"n":"current","t":-1,"v":1.6},{"n":"current","v":1.7}]',
      ),
    ).toEqual([
      ['urn:dev:ow:10e2073a0108006:current', 'A', 1.2, 1276020071.001],
      ['urn:dev:ow:10e2073a0108006:current', 'A', 1.3, 1276020072.001],
      ['urn:dev:ow:10e2073a0108006:current', 'A', 1.4, 1276020073.001],
      ['urn:dev:ow:10e2073a0108006:current', 'A', 1.5, 1276020074.001],
      ['urn:dev:ow:10e2073a0108006:current', 'A', 1.6, 1276020075.001],
      ['urn:dev:ow:10e2073a0108006:voltage', 'V', 120.1, 1276020076.001],
      ['urn:dev:ow:10e2073a0108006:current', 'A', 1.7, 1276020076.001],
    ]);
  });

  it('5.1.3: records without a name of their own bear the base name', () => {
    expect(
      records(
        '[{"bn":"urn:dev:ow:10e2073a01080063","bt":1.320067464e+09,"bu":"%RH","v":20},{"u":"lon","v":24.30621},{"u":"lat","v":60.07965},{"t":60,"v":20.3},{"u":"lon","t":60,"v":24.30622},{"u":"%EL","t":150,"v":98}]',
      ),
    ).toEqual([
      ['urn:dev:ow:10e2073a01080063', '%RH', 20, 1320067464],
      ['urn:dev:ow:10e2073a01080063', 'lon', 24.30621, 1320067464],
      ['urn:dev:ow:10e2073a01080063', 'lat', 60.07965, 1320067464],
      ['urn:dev:ow:10e2073a01080063', '%RH', 20.3, 1320067524],
      ['urn:dev:ow:10e2073a01080063', 'lon', 24.30622, 1320067524],
      ['urn:dev:ow:10e2073a01080063', '%EL', 98, 1320067614],
    ]);
  });

  it('5.1.5: a base name counts until the next one', () => {
    expect(
      records(
        '[{"bn":"2001:db8::2/","bt":1.320078429e+09,"n":"temperature","u":"Cel","v":25.2},{"n":"humidity","u":"%RH","v":30},{"bn":"2001:db8::1/","n":"temperature","u":"Cel","v":12.3},{"n":"humidity","u":"%RH","v":67}]',
      ),
    ).toEqual([
      ['2001:db8::2/temperature', 'Cel', 25.2, 1320078429],
      ['2001:db8::2/humidity', '%RH', 30, 1320078429],
      ['2001:db8::1/temperature', 'Cel', 12.3, 1320078429],
      ['2001:db8::1/humidity', '%RH', 67, 1320078429],
    ]);
  });

  it('5.1.4: strings, booleans and data are values too', () => {
    expect(
      records(
        '[{"bn":"urn:dev:ow:10e2073a01080063:","n":"temp","u":"Cel","v":23.1},{"n":"label","vs":"Machine Room"},{"n":"open","vb":false},{"n":"nfc-reader","vd":"aGkgCg"}]',
      ).map(([, , value]) => value),
    ).toEqual([23.1, 'Machine Room', false, { base64url: 'aGkgCg' }]);
  });
});

describe('the rules of RFC 8428 section 4', () => {
  it.each([
    ['base value and value are added', '[{"n":"a","bv":20,"v":3.1}]', 23.1],
    ['a base value alone is the value', '[{"n":"a","bv":20}]', 20],
    ['added decimals carry no binary noise', '[{"n":"a","bv":0.1,"v":0.2}]', 0.3],
  ])('%s', (_, json, value) => {
    expect(records(json)).toEqual([['a', null, value, NOW]]);
  });

  it('base sum and sum are added, and a sum alone is enough', () => {
    expect(resolve('[{"n":"a","bs":5,"s":1.5}]')).toMatchObject({ records: [{ value: null, sum: 6.5 }] });
  });

  it.each([
    [2 ** 28 - 1, NOW + 2 ** 28 - 1, false],
    [2 ** 28, 2 ** 28, true],
    [0, NOW, false],
    [-60, NOW - 60, false],
  ])('time %d resolves to %d', (t, time, timeIsAbsolute) => {
    expect(resolve(`[{"n":"a","v":1,"t":${t}}]`)).toMatchObject({ records: [{ time, timeIsAbsolute }] });
  });

  it('the sum of base time and time decides whether it is absolute', () => {
    expect(resolve(`[{"n":"a","v":1,"bt":${2 ** 28 - 10},"t":10}]`)).toMatchObject({
      records: [{ time: 2 ** 28, timeIsAbsolute: true }],
    });
  });

  it.each([
    ['a', true],
    ['a-:./_9', true],
    ['_a', false],
    ['', false],
    ['a b', false],
    ['ä', false],
  ])('the name %j is taken: %s', (name, isTaken) => {
    const resolved = resolve(JSON.stringify([{ n: name, v: 1 }]));
    expect(resolved).toMatchObject(
      isTaken ? { problems: [] } : { records: [], problems: [{ code: 'senml-name' }] },
    );
  });

  it.each([
    ['[{"n":"a","v":1,"vs":"x"}]', 'senml-two-values'],
    ['[{"n":"a"}]', 'senml-no-value'],
    ['[{"n":"a","v":"1"}]', 'senml-field'],
    ['[{"n":"a","v":null}]', 'senml-field'],
    ['[{"n":1,"v":1}]', 'senml-field'],
    ['[{"n":"a","v":1e999}]', 'senml-field'],
  ])('%s is refused alone as %s and the rest goes on', (json, code) => {
    const two = json.replace(/\]$/, ',{"n":"b","v":2}]');
    expect(resolve(two)).toMatchObject({ records: [{ name: 'b' }], problems: [{ code }] });
  });

  it('base fields of a record that is refused alone count for those behind it', () => {
    expect(resolve(`[{"bn":"x-","bt":${NOW},"n":"a","v":null},{"n":"b","v":2,"t":-5}]`)).toMatchObject({
      records: [{ name: 'x-b', time: NOW - 5 }],
      problems: [{ code: 'senml-field' }],
    });
  });

  it.each([
    ['{}', 'senml-not-a-pack'],
    ['[]', 'senml-not-a-pack'],
    ['"x"', 'senml-not-a-pack'],
    ['[[{"n":"a","v":1}]]', 'senml-record'],
    ['[null]', 'senml-record'],
    ['[{"bn":1,"n":"a","v":1}]', 'senml-field'],
    ['[{"bt":"x","n":"a","v":1}]', 'senml-field'],
    ['[{"bver":0,"n":"a","v":1}]', 'senml-field'],
    ['[{"bver":1.5,"n":"a","v":1}]', 'senml-field'],
    ['[{"bver":11,"n":"a","v":1}]', 'senml-version'],
    ['[{"bver":27,"n":"a","v":1}]', 'senml-version'],
    ['[{"bver":42,"n":"a","v":1}]', 'senml-version'],
    ['[{"bver":99,"n":"a","v":1}]', 'senml-version'],
    ['[{"bver":5,"n":"a","v":1},{"bver":6,"n":"b","v":1}]', 'senml-version'],
    ['[{"n":"a","v":1,"x_":1}]', 'senml-must-understand'],
  ])('the pack %s is refused whole as %s', (json, code) => {
    expect(resolve(json)).toBe(code);
  });

  it.each([
    '[{"bver":10,"n":"a","v":1}]',
    // Ten and the bit of secondary units (RFC 9100).
    '[{"bver":26,"n":"a","v":1}]',
    '[{"n":"a","v":1,"x":{"y":[]}}]',
    '[{"n":"a","v":1,"constructor":1,"__proto__x":{"v":2}}]',
  ])('the pack %s is taken, unknown fields aside', (json) => {
    expect(records(json)).toEqual([['a', null, 1, NOW]]);
  });
});
