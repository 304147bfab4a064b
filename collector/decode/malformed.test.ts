// Made-up payloads over all formats: nothing throws, and what is neither taken nor refused is what the format has a reader
// pass over. `MALFORMED_RUNS` makes more of them than a test run has time for.

import fc from 'fast-check';
import { get } from 'sparkplug-payload';
import { expect, it } from 'vitest';
import { epochMillis } from '../../wax/units.ts';
import { decodeMessage } from './decode-message.ts';
import type { DeliveryMode } from './message.ts';
import { rejectionEntries } from './rejection.ts';
import { SparkplugHost } from './sparkplug/host.ts';

const NOW = epochMillis(Date.UTC(2026, 5, 1, 8));
const RUNS = Number(process.env.MALFORMED_RUNS ?? 3000);
const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

const record = fc.dictionary(
  fc.constantFrom('n', 'u', 'v', 't', 'bn', 'bt', 'bu', 'bv', 'vs', 'vb', 'vd', 's', 'bver', 'x_', 'ut'),
  fc.oneof(
    fc.constantFrom<unknown>('pot-1', 'Cel', 'K', 'Far', 'Ohm', 'mV', 'gateway/sequence', null, true, {}, []),
    fc.double(),
    fc.integer({ min: -(2 ** 40), max: 2 ** 40 }),
  ),
  { maxKeys: 6 },
);
const codec = get('spBv1.0');
const valid: readonly Uint8Array[] = [
  bytes('61.5'),
  bytes('online'),
  bytes('[{"n":"pot-1","u":"Cel","v":61.5,"t":1780300800}]'),
  Buffer.from('81a30065706f742d31016343656c02c482201902679', 'hex'),
  codec?.encodePayload({
    timestamp: NOW,
    seq: 0,
    metrics: [
      { name: 'bdSeq', type: 'UInt64', value: 1 },
      { name: 'temperature', alias: 5, type: 'Float', value: 61.5, timestamp: NOW },
    ],
  }) ?? bytes(''),
];
const broken = fc
  .tuple(
    fc.constantFrom(...valid),
    fc.array(fc.tuple(fc.nat(200), fc.nat(255)), { maxLength: 5 }),
    fc.nat(200),
  )
  .map(([whole, edits, length]) => {
    const copy = Uint8Array.from(whole).slice(0, length > 150 ? whole.length : length);
    for (const [at, value] of edits) if (at < copy.length) copy[at] = value;
    return copy;
  });
const payload = fc.oneof(
  broken,
  fc.uint8Array({ maxLength: 64 }),
  fc.array(record, { maxLength: 4 }).map((pack) => bytes(JSON.stringify(pack))),
  fc.json({ maxDepth: 3 }).map(bytes),
  fc.string({ maxLength: 20 }).map(bytes),
);
const topic = fc.oneof(
  fc.constantFrom(
    'wax/lab-1/gw/pot-1/celsius',
    'wax/lab-1/gw/senml',
    'wax/lab-1/gw/senml-past',
    'wax/lab-1/gw/senml-cbor',
    'wax/lab-1/gw/state',
    'spBv1.0/g/NBIRTH/edge',
    'spBv1.0/g/NDATA/edge',
    'spBv1.0/g/DBIRTH/edge/pot-1',
    'spBv1.0/g/DDATA/edge/pot-1',
    'spBv1.0/g/NDEATH/edge',
  ),
  fc.string({ maxLength: 30 }).map((rest) => `wax/lab-1/${rest}`),
  fc.string({ maxLength: 30 }).map((rest) => `spBv1.0/${rest}`),
);
const delivery = fc.constantFrom<DeliveryMode>('live', 'live', 'queued', 'retained');

it('every message of any format is taken or refused, and none throws', () => {
  const host = new SparkplugHost();
  let second = 0;
  fc.assert(
    fc.property(topic, payload, delivery, (name, given, how) => {
      second += 1;
      const message = {
        topic: name,
        payload: given,
        receivedAt: epochMillis(NOW + second * 100),
        delivery: how,
        site: 'lab-1',
      };
      if (name.startsWith('spBv1.0/')) {
        const { decoded } = host.receive(message);
        rejectionEntries(decoded.rejections);
        host.expire(message.receivedAt);
        return;
      }
      const { entries, rejections } = decodeMessage(message);
      const isForgotten = given.length === 0 && how === 'retained';
      if (!isForgotten) expect(entries.length + rejections.length).toBeGreaterThan(0);
      expect(JSON.parse(JSON.stringify(rejectionEntries(rejections)))).toHaveLength(
        new Set(rejections.map(({ code }) => code)).size,
      );
      for (const entry of entries)
        if (entry.kind === 'readings')
          for (const { at, celsius } of entry.readings)
            expect(Number.isFinite(at) && celsius >= -100 && celsius <= 1372).toBe(true);
    }),
    { numRuns: RUNS, seed: 20_260_601 },
  );
});
