// Templates and what else is no single number, against payloads of an encoder that shares nothing with the decoder.
import { get } from 'sparkplug-payload';
import type { UMetric } from 'sparkplug-payload/lib/sparkplugbpayload.js';
import { describe, expect, it } from 'vitest';
import { epochMillis } from '../../../wax/units.ts';
import { SparkplugHost } from './host.ts';

const codec = get('spBv1.0');
if (codec == null) throw new Error('no codec');

const NOW = Date.UTC(2026, 5, 1, 8);
const bdSeq: UMetric = { name: 'bdSeq', type: 'UInt64', value: 0 };
const celsius = (value: number, more: Partial<UMetric> = {}): UMetric => ({
  name: 'Temperature',
  type: 'Double',
  value,
  timestamp: NOW,
  ...more,
});
const template = (name: string, metrics: UMetric[], more: object = {}): UMetric => ({
  name,
  type: 'Template',
  timestamp: NOW,
  value: { version: '1', templateRef: 'pot', isDefinition: false, metrics, parameters: [], ...more },
});

const bench = () => {
  const host = new SparkplugHost();
  return (topic: string, seq: number, metrics: UMetric[], timestamp = NOW) => {
    const payload = codec.encodePayload({ timestamp, seq, metrics });
    const { decoded, commands } = host.receive({
      topic: `spBv1.0/g/${topic}`,
      payload,
      receivedAt: epochMillis(NOW),
      delivery: 'live',
      site: 'lab-1',
    });
    const { entries, rejections } = decoded;
    return {
      readings: entries.flatMap((entry) =>
        entry.kind === 'readings' ? entry.readings.map(({ probe, celsius }) => [probe, celsius]) : [],
      ),
      historical: entries.filter((entry) => entry.kind === 'readings' && entry.isHistorical).length,
      entries,
      refused: rejections.map(({ code, values }) => [code, ...Object.values(values ?? {})]),
      commands,
    };
  };
};

describe('a template of a Sparkplug node', () => {
  it('gives its members as probes under its own name', () => {
    const members = [celsius(61), { name: 'Heater', type: 'Boolean', value: true } as UMetric];
    const { readings, refused } = bench()('NBIRTH/edge', 0, [
      bdSeq,
      template('Pots/1', members),
      template('Pots/2', [celsius(62)]),
    ]);
    expect(readings).toEqual([
      ['Pots.1', 61],
      ['Pots.2', 62],
    ]);
    expect(refused).toEqual([]);
  });

  it('gives in data the members that changed, whether named or by its alias, and its own past and time', () => {
    const send = bench();
    const pot = (value: number, more: Partial<UMetric> = {}) => ({
      ...template('Pot', [celsius(value, { timestamp: undefined as never })]),
      ...more,
    });
    send('NBIRTH/edge', 0, [bdSeq, { ...pot(60), alias: 9 } as UMetric]);
    expect(send('NDATA/edge', 1, [pot(61) as UMetric]).readings).toEqual([['Pot', 61]]);
    const { name: _, ...byAlias } = pot(62, { alias: 9, timestamp: NOW + 5 });
    expect(send('NDATA/edge', 2, [byAlias as UMetric]).entries).toMatchObject([
      { readings: [{ probe: 'Pot', celsius: 62, at: NOW + 5 }] },
    ]);
    const past = pot(63, { isHistorical: true, timestamp: NOW - 60_000 });
    expect(send('NDATA/edge', 3, [past as UMetric])).toMatchObject({
      historical: 1,
      readings: [['Pot', 63]],
    });
  });

  it('keeps apart members of two templates that bear one alias', () => {
    const send = bench();
    const pots = (values: readonly number[]) =>
      values.map((value, index) => template(`Pot ${index}`, [celsius(value, { alias: 1 })]));
    expect(send('NBIRTH/edge', 0, [bdSeq, ...pots([60, 70])]).refused).toEqual([]);
    expect(send('NDATA/edge', 1, pots([61, 71])).readings).toEqual([
      ['Pot-0', 61],
      ['Pot-1', 71],
    ]);
  });

  it('of templates is laid open', () => {
    const bath = template('Bath', [template('Left', [celsius(40)]), template('Right', [celsius(41)])]);
    expect(bench()('NBIRTH/edge', 0, [bdSeq, bath]).readings).toEqual([
      ['Bath.Left', 40],
      ['Bath.Right', 41],
    ]);
  });

  it('nested deeper than eight levels is named in quarantine', () => {
    const nested = Array.from({ length: 9 }).reduce<UMetric>(
      (inner) => template('a', [inner]),
      celsius(40, { name: 'Temperature' }),
    );
    const { readings, refused } = bench()('NBIRTH/edge', 0, [bdSeq, nested]);
    expect([readings, refused]).toEqual([[], [['sparkplug-not-a-number', 'a/a/a/a/a/a/a/a/a']]]);
  });

  it('nested as deep as a message is long is refused whole', () => {
    const heads: Buffer[] = [];
    let length = 0;
    const wrap = (...field: number[]): void => {
      const digits: number[] = [];
      for (let rest = length; rest > 0; rest >>= 7) digits.push((rest & 127) + (rest > 127 ? 128 : 0));
      const head = Buffer.from([...field, ...(digits.length === 0 ? [0] : digits)]);
      heads.push(head);
      length += head.length;
    };
    for (let level = 0; level < 40_000; level += 1) {
      // Metric.template_value is field 18, Template.metrics and Payload.metrics field 2.
      wrap(0x92, 0x01);
      wrap(0x12);
    }
    const inner = Buffer.concat(heads.reverse());
    const { decoded } = new SparkplugHost().receive({
      topic: 'spBv1.0/g/NBIRTH/edge',
      payload: inner,
      receivedAt: epochMillis(NOW),
      delivery: 'live',
      site: 'lab-1',
    });
    expect(decoded).toMatchObject({ entries: [], rejections: [{ code: 'sparkplug-not-protobuf' }] });
  });

  it('that defines what others hold is no reading', () => {
    const definition = template('_types_/pot', [celsius(0)], { isDefinition: true });
    expect(bench()('NBIRTH/edge', 0, [bdSeq, definition])).toMatchObject({ readings: [], refused: [] });
  });

  it('that no birth has named is refused, and the births are requested', () => {
    const send = bench();
    send('NBIRTH/edge', 0, [bdSeq]);
    const { refused, commands } = send('NDATA/edge', 1, [template('Pot', [celsius(61)])]);
    expect(refused).toEqual([
      ['sparkplug-unknown-metric', 'Pot'],
      ['sparkplug-unknown-metric', 'Pot/Temperature'],
    ]);
    expect(commands).toHaveLength(1);
  });
});

it.each([
  [
    'a table',
    {
      name: 'Pots',
      type: 'DataSet',
      value: { columns: ['t'], types: ['Double'], rows: [[61]], numOfColumns: 1 },
    },
  ],
  ['bytes', { name: 'Pots', type: 'Bytes', value: new Uint8Array([61]) }],
  ['a template without members', template('Pots', [])],
  [
    'a temperature as text',
    { name: 'Pots', type: 'String', value: '61.5', properties: { engUnit: { type: 'String', value: '°C' } } },
  ],
])('%s in a Sparkplug birth is named in quarantine', (_, metric) => {
  expect(bench()('NBIRTH/edge', 0, [bdSeq, metric as UMetric]).refused).toEqual([
    ['sparkplug-not-a-number', 'Pots'],
  ]);
});

describe('Sparkplug data that waits for what never came', () => {
  const waiting = () => {
    const send = bench();
    send(
      'NBIRTH/edge',
      0,
      [bdSeq, celsius(60, { name: 'pot', alias: 1, properties: { unit: { type: 'String', value: 'Cel' } } })],
      NOW - 9,
    );
    expect(
      send('NDATA/edge', 2, [{ alias: 1, type: 'Double', value: 61, timestamp: NOW - 8 } as UMetric], NOW - 8)
        .readings,
    ).toEqual([]);
    return send;
  };

  it('is taken before the death of its node', () => {
    const { entries } = waiting()('NDEATH/edge', 0, [bdSeq]);
    expect(entries).toMatchObject([
      { kind: 'readings', readings: [{ celsius: 61 }] },
      { kind: 'gateway', online: false },
    ]);
  });

  it('is taken by the birth before it, and what is younger than the next birth by that one', () => {
    const send = waiting();
    const young = { alias: 1, type: 'Double', value: 20, timestamp: NOW + 1 } as UMetric;
    send('NDATA/edge', 3, [young], NOW + 1);
    const other = celsius(19, {
      name: 'room',
      alias: 1,
      properties: { unit: { type: 'String', value: 'Cel' } },
    });
    const { readings } = send('NBIRTH/edge', 2, [bdSeq, other], NOW);
    expect(readings).toEqual([
      ['pot', 61],
      ['room', 19],
      ['room', 20],
    ]);
  });
});
