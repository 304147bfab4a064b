// SenML in CBOR against bytes that are laid down here, and against its JSON form.

import { encode } from 'cborg';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { epochMillis } from '../../wax/units.ts';
import { decodeMessage } from './decode-message.ts';

const NOW = epochMillis(Date.UTC(2026, 5, 1, 8));
const SECONDS = NOW / 1000;
const decode = (payload: Uint8Array, kind = 'senml-cbor') =>
  decodeMessage({ topic: `wax/lab-1/gw/${kind}`, payload, receivedAt: NOW, delivery: 'live', site: 'lab-1' });
const readings = (payload: Uint8Array) =>
  decode(payload).entries.flatMap((entry) => (entry.kind === 'readings' ? entry.readings : []));
const codes = (payload: Uint8Array) => decode(payload).rejections.map(({ code }) => code);
const hex = (text: string): Uint8Array => Buffer.from(text.replaceAll(/\s/g, ''), 'hex');

describe('a SenML pack of a gateway', () => {
  const pack = (records: readonly object[], kind = 'senml') =>
    decode(new TextEncoder().encode(JSON.stringify(records)), kind);
  const pot = { n: 'pot-1', u: 'Cel', v: 61.5, t: SECONDS - 3600 };

  it('of the past is historical', () => {
    expect(pack([pot], 'senml-past').entries).toMatchObject([
      { kind: 'readings', isHistorical: true, readings: [{ celsius: 61.5 }] },
    ]);
  });
  it('carries the numbers of its sweeps beside the readings', () => {
    const { entries, rejections } = pack([pot, { n: 'gateway/sequence', u: 'count', v: 7 }]);
    expect(entries).toMatchObject([{ kind: 'readings' }, { kind: 'sequence', sequences: [7] }]);
    const named = pack([
      pot,
      { n: 'gateway/sequence', u: 'count', v: 7 },
      { n: 'gateway/buffer', vs: '5f0c' },
    ]);
    expect(named.entries[1]).toMatchObject({ sequences: [7], buffer: '5f0c' });
    expect(named.rejections).toEqual([]);
    expect(rejections).toEqual([]);
  });
  it('whose clock was never set is uncertain in time', () => {
    expect(pack([pot, { n: 'gateway/clock', vb: false }]).entries).toMatchObject([
      { readings: [{ quality: 'uncertain-time' }] },
    ]);
  });
  it.each([0, -1, 1.5])('with the number %j of a sweep goes to quarantine with it', (v) => {
    expect(pack([{ n: 'gateway/sequence', u: 'count', v }]).rejections).toMatchObject([
      { code: 'unit-not-temperature' },
    ]);
  });
});

describe('a SenML pack in CBOR', () => {
  it('is read by the labels of RFC 8428, table 4', () => {
    // [{-2: "urn:dev:ow:", -3: 1780300800, -4: "Cel", 0: "28ff", 2: 61.5}, {0: "28fe", 2: 335.0, 1: "K", 6: -10}]
    const pack = hex(`
      82 a5 21 6b 75726e3a6465763a6f773a 22 1a 6a1d3c00 23 63 43656c 00 64 32386666 02 fb 404ec00000000000
         a4 00 64 32386665 02 f9 5d3c 01 61 4b 06 29`);
    expect(readings(pack)).toEqual([
      { probe: '28fe', at: epochMillis((0x6a1d3c00 - 10) * 1000), celsius: 61.85, quality: 'good' },
      { probe: '28ff', at: epochMillis(0x6a1d3c00 * 1000), celsius: 61.5, quality: 'good' },
    ]);
  });

  it('takes a decimal fraction (tag 4) as its number', () => {
    // [{0: "pot-1", 1: "Cel", 2: 4([-1, 615])}]
    expect(readings(hex('81 a3 00 65 706f742d31 01 63 43656c 02 c4 82 20 19 0267'))).toMatchObject([
      { probe: 'pot-1', celsius: 61.5 },
    ]);
  });

  it.each([
    ['text', new TextEncoder().encode('[{"n":"pot-1"}]'), 'senml-not-cbor'],
    ['a pack that is cut off', hex('82 a3 00 65 706f742d31'), 'senml-not-cbor'],
    ['a second item behind the pack', hex('81 a3 00 61 61 01 63 43656c 02 18 3d 00'), 'senml-not-cbor'],
    ['a label twice', hex('81 a3 00 61 61 00 61 62 02 18 3d'), 'senml-not-cbor'],
    ['an integer beyond 2^53', hex('81 a2 00 61 61 02 1b ffffffffffffffff'), 'senml-not-cbor'],
    ['an unknown tag', hex('81 a2 00 61 61 02 c1 18 3d'), 'senml-not-cbor'],
    ['nesting without end', new Uint8Array(60_000).fill(0x81), 'senml-not-cbor'],
    ['a text in pieces of no declared length', hex('81 a1 00 7f 61 61 61 62 ff'), 'senml-not-cbor'],
    ['a map in place of the pack', hex('a1 00 61 61'), 'senml-not-a-pack'],
    ['a number in place of a record', hex('81 01'), 'senml-record'],
    [
      'a field under its label and under its name',
      hex('81 a3 02 18 3d 61 76 18 14 00 61 61'),
      'senml-not-cbor',
    ],
    ['a value of the wrong type', hex('81 a2 00 61 61 02 61 62'), 'senml-field'],
    ['bytes in place of a name', hex('81 a3 00 42 6161 01 63 43656c 02 18 3d'), 'senml-field'],
    [
      'a value that is not a number',
      encode([
        new Map<number, unknown>([
          [0, 'a'],
          [2, Number.NaN],
        ]),
      ]),
      'senml-field',
    ],
    ['a label that must be understood', hex('81 a3 00 61 61 02 18 3d 62 785f 01'), 'senml-must-understand'],
    ['nothing', new Uint8Array(), 'empty'],
    ['more than 64 KiB', new Uint8Array(70_000), 'too-large'],
  ])('is refused whole when it is %s', (_, payload, code) => {
    expect(decode(payload)).toMatchObject({ entries: [], rejections: [{ code }] });
  });

  const pot = '00 65 706f742d31 01 63 43656c';
  it.each([
    ['a half', `81 a3 ${pot} 02 f9 53b0`, 61.5],
    ['a single', `81 a3 ${pot} 02 fa 42760000`, 61.5],
    ['an integer', `81 a3 ${pot} 02 18 3d`, 61],
    ['a negative integer', `81 a3 ${pot} 02 29`, -10],
    [
      'a decimal fraction with a mantissa of many digits',
      `81 a3 ${pot} 02 c4 82 31 c2 49 03557be428b6860000`,
      61.5,
    ],
    ['a decimal fraction with a negative big mantissa', `81 a3 ${pot} 02 c4 82 20 c3 41 63`, -10],
    ['a value in a pack and a map of no declared length', `9f bf ${pot} 02 f9 53b0 ff ff`, 61.5],
    ['a value in a pack that says that it is CBOR', `d9d9f7 81 a3 ${pot} 02 f9 53b0`, 61.5],
  ])('takes %s', (_, bytes, celsius) => {
    expect(readings(hex(bytes))).toMatchObject([{ probe: 'pot-1', celsius }]);
  });

  it('passes over labels that it does not know', () => {
    expect(codes(hex('81 a4 00 61 61 01 63 43656c 02 18 3d 18 63 01'))).toEqual([]);
  });

  it('gives what its JSON form gives', () => {
    const record = fc.record({
      n: fc.constantFrom('pot-1', 'a/b:pot-2', 'bad name', ''),
      u: fc.constantFrom('Cel', 'K', 'Far', 'Ohm', 'mV', 'V', '%RH'),
      v: fc.double({ noDefaultInfinity: true, noNaN: true, min: -500, max: 2000 }),
      t: fc.integer({ min: -5000, max: 60 }),
    });
    const LABELS = { n: 0, u: 1, v: 2, t: 6 } as const;
    fc.assert(
      fc.property(fc.array(record, { minLength: 1, maxLength: 8 }), (records) => {
        const json = JSON.stringify(records.map(({ t, ...rest }) => ({ ...rest, t: SECONDS + t })));
        const cbor = encode(
          (JSON.parse(json) as Record<keyof typeof LABELS, unknown>[]).map(
            (fields) =>
              new Map(
                Object.entries(fields).map(([name, value]) => [LABELS[name as keyof typeof LABELS], value]),
              ),
          ),
        );
        const withoutSamples = ({ entries, rejections }: ReturnType<typeof decode>) => ({
          entries,
          rejections: rejections.map(({ code, values }) => ({ code, values })),
        });
        expect(withoutSamples(decode(cbor))).toEqual(
          withoutSamples(decode(new TextEncoder().encode(json), 'senml')),
        );
      }),
    );
  });
});
