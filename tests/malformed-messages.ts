// Made-up messages over all formats, the same for a seed: whole ones, ones with bytes changed, cut, doubled or replaced
// by what
// has broken decoders before. Sent through the decoder of intake and counted by what became of them.

import { randomLcg } from 'd3-random';
import { get } from 'sparkplug-payload';
import { messageDecoder } from '../collector/intake/message-decoder.ts';
import type { DeliveryMode, Message } from '../collector/decode/message.ts';
import type { PayloadMapping } from '../lab/database/payload-mapping.ts';
import { epochMillis } from '../wax/units.ts';

const NOW = Date.UTC(2026, 5, 1, 8);
const text = (content: string): Uint8Array => new TextEncoder().encode(content);
const sparkplug = (metrics: readonly object[], seq: number): Uint8Array =>
  get('spBv1.0')?.encodePayload({ timestamp: NOW, seq, metrics: [...metrics] as never }) ?? text('');
const TEMPERATURE = { name: 'Temperature', alias: 5, type: 'Float', value: 61.5, timestamp: NOW };

/**
 * What is no single number, as the standard lets a metric be: a template with members, a table, and properties within
 * properties.
 */
const PROPERTIES = {
  engUnit: { type: 'String', value: 'Cel' },
  limits: { type: 'PropertySet', value: { high: { type: 'Double', value: 90 } } },
};
const POT = {
  name: 'Pots/1',
  alias: 7,
  type: 'Template',
  value: {
    version: '1',
    templateRef: 'pot',
    isDefinition: false,
    metrics: [
      { ...TEMPERATURE, properties: PROPERTIES },
      { name: 'Heater', type: 'Boolean', value: true },
    ],
    parameters: [{ name: 'slot', type: 'Int32', value: 1 }],
  },
};
const TABLE = {
  name: 'Day',
  alias: 8,
  type: 'DataSet',
  value: {
    numOfColumns: 2,
    columns: ['at', 'Temperature'],
    types: ['DateTime', 'Double'],
    rows: [
      [NOW, 61.5],
      [NOW + 1000, 61.6],
    ],
  },
};
const NESTED = { ...POT, name: 'Bench', alias: 9, value: { ...POT.value, metrics: [POT, TABLE] } };

const WHOLE: readonly (readonly [topic: string, payload: Uint8Array])[] = [
  ['wax/lab-1/gw/pot-1/celsius', text('61.5')],
  ['wax/lab-1/gw/state', text('online')],
  [
    'wax/lab-1/gw/senml',
    text('[{"bn":"pot-1","u":"Cel","v":61.5,"t":1780300800},{"n":"b","u":"Ohm","v":123.2}]'),
  ],
  [
    'wax/lab-1/gw/senml-past',
    text('[{"n":"pot-1","u":"K","v":334.6,"t":1780300700},{"n":"c","u":"%RH","v":40}]'),
  ],
  ['wax/lab-1/gw/senml-cbor', Buffer.from('81a30065706f742d31016343656c02fb404ec00000000000', 'hex')],
  ['pots/pot-7/values', text('{"t":61.5,"when":"2026-06-01T08:00:00Z"}')],
  ['spBv1.0/g/NBIRTH/edge', sparkplug([{ name: 'bdSeq', type: 'UInt64', value: 1 }, TEMPERATURE], 0)],
  ['spBv1.0/g/NDATA/edge', sparkplug([{ alias: 5, type: 'Float', value: 62 }], 1)],
  ['spBv1.0/g/DBIRTH/edge/pot-1', sparkplug([TEMPERATURE], 2)],
  ['spBv1.0/g/NBIRTH/edge', sparkplug([{ name: 'bdSeq', type: 'UInt64', value: 1 }, POT, TABLE, NESTED], 0)],
  ['spBv1.0/g/NDATA/edge', sparkplug([{ ...POT, name: undefined }, TABLE, NESTED], 1)],
  ['spBv1.0/g/NDEATH/edge', sparkplug([{ name: 'bdSeq', type: 'UInt64', value: 1 }], 0)],
];
/** What has broken decoders before: nesting that fills the stack, numbers that are none, lengths that promise too much. */
const HOSTILE: readonly Uint8Array[] = [
  text('['.repeat(20_000)),
  text(`${'{"a":'.repeat(5000)}1${'}'.repeat(5000)}`),
  new Uint8Array(20_000).fill(0x81),
  new Uint8Array(20_000).fill(0xa1),
  Buffer.from('9bffffffffffffffff', 'hex'),
  Buffer.from('7bffffffffffffffff', 'hex'),
  Buffer.from('0affffffffff7f', 'hex'),
  text('1e999'),
  text(`${'1'.repeat(60_000)}x`),
  text('-0'),
  text('[{"n":"__proto__","u":"Cel","v":1}]'),
  text('[{"__proto__":{"v":1},"n":"a","u":"Cel"}]'),
  text('[{"n":"a","u":"Cel","v":1e308,"bv":1e308}]'),
  text('\ufeff61.5'),
  text(''),
  new Uint8Array(70_000).fill(0x30),
];
const DELIVERIES: readonly DeliveryMode[] = ['live', 'live', 'live', 'queued', 'retained'];

export interface MalformedCounts {
  readonly received: number;
  readonly acknowledged: number;
  /** Messages of which something was taken. */
  readonly accepted: number;
  /** Messages of which nothing was taken and something was refused. */
  readonly quarantined: number;
  /** Messages of Sparkplug that wait for those before them or hold no temperatures. */
  readonly sparkplugWithout: number;
  /** Empty retained messages, by which a broker forgets a value. */
  readonly clearing: number;
  /** All others of which nothing came; there must be none. */
  readonly lost: readonly string[];
}

export interface MadeMessage {
  readonly topic: string;
  readonly payload: Uint8Array;
  readonly delivery: DeliveryMode;
}

/** Returns one message after another, for ever; the same ones for a seed. */
export const malformedMessages = (seed: number): (() => MadeMessage) => {
  const random = randomLcg(seed);
  const below = (limit: number): number => Math.floor(random() * limit);
  const pick = <T>(list: readonly T[], otherwise: T): T => list[below(list.length)] ?? otherwise;
  const mangle = (whole: Uint8Array): Uint8Array => {
    const way = below(10);
    if (way === 0) return pick(HOSTILE, whole);
    if (way === 1) return Uint8Array.from({ length: below(64) }, () => below(256));
    const copy = Uint8Array.from(whole);
    if (way === 2) return copy.slice(0, below(copy.length + 1));
    if (way === 3) return Buffer.concat([copy, copy.slice(below(copy.length + 1))]);
    const edits = way === 4 ? 0 : 1 + below(4);
    for (let edit = 0; edit < edits; edit += 1) copy[below(copy.length)] = below(256);
    return copy;
  };
  return () => {
    const [ownTopic, whole] = pick(WHOLE, ['wax/lab-1/gw/senml', text('[]')] as const);
    // One format's payload on the topic of another, too.
    const [otherTopic] = pick(WHOLE, [ownTopic, whole] as const);
    return {
      topic: below(10) === 0 ? otherTopic : ownTopic,
      payload: mangle(whole),
      delivery: pick(DELIVERIES, 'live'),
    };
  };
};

/** What turns the JSON of `pots/+/values` into readings. */
export const MALFORMED_MAPPING: PayloadMapping = {
  id: 'mapping-1',
  topic: 'pots/+/values',
  gateway: 'loggers',
  probe: '{1}',
  value: '/t',
  unit: 'Cel',
  time: '/when',
  timeFormat: 'iso',
  isOn: true,
};

/** `onEach` is called after every message, with how many have been sent. */
export function sendMalformed(
  count: number,
  seed: number,
  onEach: (sent: number) => void = () => {},
): MalformedCounts {
  const nextMessage = malformedMessages(seed);
  const counts = {
    received: 0,
    acknowledged: 0,
    accepted: 0,
    quarantined: 0,
    sparkplugWithout: 0,
    clearing: 0,
  };
  const lost: string[] = [];
  let current: Message | null = null;
  const decoder = messageDecoder({
    add: (entries, _rejected, committed) => {
      if (current !== null) {
        if (entries.some(({ kind }) => kind !== 'rejection')) counts.accepted += 1;
        else if (entries.length > 0) counts.quarantined += 1;
        else if (current.topic.startsWith('spBv1.0/')) counts.sparkplugWithout += 1;
        else if (current.payload.length === 0 && current.delivery === 'retained') counts.clearing += 1;
        else lost.push(`${current.topic} ${Buffer.from(current.payload).toString('hex').slice(0, 200)}`);
      }
      // The journal takes them as JSON, so that must not fail either.
      JSON.stringify(entries);
      committed();
    },
    send: () => {},
  });
  decoder.map([MALFORMED_MAPPING]);
  try {
    for (let sent = 1; sent <= count; sent += 1) {
      current = { ...nextMessage(), receivedAt: epochMillis(NOW + sent * 50), site: 'lab-1' };
      counts.received += 1;
      decoder.receive(current, () => {
        counts.acknowledged += 1;
      });
      onEach(sent);
    }
  } finally {
    decoder.stop();
  }
  return { ...counts, lost };
}
