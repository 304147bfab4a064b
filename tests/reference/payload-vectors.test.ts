// Bytes from outside, with their sources and standings in payload-vectors.json, through the decoders of the intake.

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { decodeMessage } from '../../collector/decode/decode-message.ts';
import { SparkplugHost } from '../../collector/decode/sparkplug/host.ts';
import type { Entry } from '../../lab/entry.ts';
import { epochMillis } from '../../wax/units.ts';

interface Vectors {
  readonly senmlExample: { readonly json: string; readonly cbor: string };
  readonly cborNumbers: {
    readonly numbers: readonly (readonly [hex: string, value: number])[];
    readonly outOfRange: readonly string[];
    readonly noNumbers: readonly string[];
    readonly notOfSenml: readonly string[];
  };
  readonly sparkplug: {
    readonly receivedAt: number;
    readonly messages: readonly {
      readonly topic: string;
      readonly hex: string;
      readonly probe: string;
      readonly celsius: number;
      readonly secondsAfter: number;
      readonly isHistorical: boolean;
    }[];
    readonly death: string;
  };
}
const { senmlExample, cborNumbers, sparkplug }: Vectors = JSON.parse(
  readFileSync(new URL('./payload-vectors.json', import.meta.url), 'utf8'),
);
const bytes = (hex: string): Uint8Array => Buffer.from(hex, 'hex');
const decode = (kind: string, payload: Uint8Array, receivedAt: number) => {
  const message = { payload, receivedAt: epochMillis(receivedAt), delivery: 'live', site: 'lab-1' } as const;
  const { entries, rejections } = decodeMessage({ ...message, topic: `wax/lab-1/gw/${kind}` });
  return { entries, refused: rejections.map(({ code, values }) => [code, values]) };
};
const readingsOf = (entries: readonly Entry[]) =>
  entries.flatMap((entry) => (entry.kind === 'readings' ? entry.readings : []));

describe('The example of RFC 8428 in JSON and CBOR', () => {
  // At the instant of its base time, 8 June 2010, 18:01:16.001 UTC.
  const received = 1_276_020_076_001;
  const fromJson = decode('senml', new TextEncoder().encode(senmlExample.json), received);

  it('has 195 bytes in CBOR and gives the same', () => {
    expect(bytes(senmlExample.cbor)).toHaveLength(195);
    expect(decode('senml-cbor', bytes(senmlExample.cbor), received)).toEqual(fromJson);
  });

  it('is refused record by record in the order of its times: amperes and 120 V are of no probe', () => {
    const amperes = ['unit-not-temperature', { name: 'urn:dev:ow:10e2073a0108006:current' }];
    const volts = ['electrical-out-of-range', { least: -100, most: 100, unit: 'mV' }];
    expect(fromJson).toEqual({ entries: [], refused: [...Array(5).fill(amperes), volts, amperes] });
  });
});

describe('A value of SenML in CBOR', () => {
  const received = Date.UTC(2026, 5, 1, 8);
  /** [{0: "pot-1", 1: "Cel", 2: VALUE}] */
  const valued = (hex: string) =>
    decode('senml-cbor', bytes(`81a30065706f742d31016343656c02${hex}`), received);

  it.each(cborNumbers.numbers)('is read from %s of RFC 8949 as %d', (hex, value) => {
    expect(valued(hex).refused).toEqual([]);
    expect(readingsOf(valued(hex).entries).map(({ celsius }) => celsius)).toEqual([
      value === 0 ? expect.closeTo(0, 12) : value,
    ]);
  });

  it.each(cborNumbers.outOfRange)('that is %s of RFC 8949 is no temperature of a probe', (hex) => {
    expect(valued(hex).refused.map(([code]) => code)).toEqual(['out-of-range']);
  });

  it.each([...cborNumbers.noNumbers, ...cborNumbers.notOfSenml])(
    'is refused when it is %s of RFC 8949',
    (hex) => {
      const { entries, refused } = valued(hex);
      expect(readingsOf(entries)).toEqual([]);
      expect(refused.map(([code]) => code)).toEqual([expect.stringMatching(/^senml-(field|not-cbor)$/)]);
    },
  );
});

describe('Bytes of another encoder of Sparkplug', () => {
  it('give the readings of birth, data by alias and the past, and the death of the node', () => {
    const host = new SparkplugHost();
    const receive = (topic: string, hex: string) =>
      host.receive({
        topic: `spBv1.0/g/${topic}`,
        payload: bytes(hex),
        receivedAt: epochMillis(sparkplug.receivedAt),
        delivery: 'live',
        site: 'lab-1',
      }).decoded;
    for (const { topic, hex, probe, celsius, secondsAfter, isHistorical } of sparkplug.messages) {
      const { entries, rejections } = receive(topic, hex);
      expect(rejections).toEqual([]);
      expect(readingsOf(entries)).toMatchObject([
        { probe, celsius, at: sparkplug.receivedAt + 1000 * secondsAfter },
      ]);
      expect(entries.some((entry) => entry.kind === 'readings' && entry.isHistorical === true)).toBe(
        isHistorical,
      );
    }
    expect(receive('NDEATH/edge', sparkplug.death).entries).toMatchObject([
      { kind: 'gateway', gateway: 'edge', online: false },
    ]);
  });
});
