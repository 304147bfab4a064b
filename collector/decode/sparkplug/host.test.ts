// The Sparkplug host against payloads of an encoder that shares nothing with the decoder.

import fc from 'fast-check';
import { get } from 'sparkplug-payload';
import type { UMetric, UPayload } from 'sparkplug-payload/lib/sparkplugbpayload.js';
import { describe, expect, it } from 'vitest';
import { epochMillis } from '../../../wax/units.ts';
import type { Message } from '../message.ts';
import { SparkplugHost } from './host.ts';

const codec = get('spBv1.0');
if (codec == null) throw new Error('no codec');
const { encodePayload, decodePayload } = codec;

const NOW = Date.UTC(2026, 5, 1, 8);
const encode = (payload: UPayload): Uint8Array => encodePayload(payload);
const celsius = (name: string, value: number, more: Partial<UMetric> = {}): UMetric => ({
  name,
  type: 'Double',
  value,
  timestamp: NOW,
  properties: { engUnit: { type: 'String', value: '°C' } },
  ...more,
});
const bdSeq = (value: number): UMetric => ({ name: 'bdSeq', type: 'UInt64', value });

const bench = () => {
  const host = new SparkplugHost();
  const send = (topic: string, payload: Uint8Array, at = NOW, delivery: Message['delivery'] = 'live') => {
    const step = host.receive({
      topic: `spBv1.0/${topic}`,
      payload,
      receivedAt: epochMillis(at),
      delivery,
      site: 'lab-1',
    });
    return summary(step);
  };
  const summary = ({ decoded, commands }: ReturnType<SparkplugHost['receive']>) => ({
    readings: decoded.entries.flatMap((entry) => (entry.kind === 'readings' ? entry.readings : [])),
    historical: decoded.entries.flatMap((entry) =>
      entry.kind === 'readings' && entry.isHistorical === true ? entry.readings : [],
    ),
    statuses: decoded.entries.flatMap((entry) => (entry.kind === 'device-status' ? entry.statuses : [])),
    gone: decoded.entries.flatMap((entry) => (entry.kind === 'probes-gone' ? [entry] : [])),
    online: decoded.entries.flatMap((entry) => (entry.kind === 'gateway' ? [entry.online] : [])),
    codes: decoded.rejections.map(({ code }) => code),
    commands,
  });
  return {
    send,
    expire: (at: number) => summary(host.expire(epochMillis(at))),
    birth: (metrics: UMetric[] = [], { seq = 0, death = 7 } = {}) =>
      send('g/NBIRTH/edge', encode({ timestamp: NOW, seq, metrics: [bdSeq(death), ...metrics] })),
    data: (seq: number, metrics: UMetric[], at = NOW) =>
      send('g/NDATA/edge', encode({ timestamp: NOW, seq, metrics }), at),
  };
};

describe('a Sparkplug birth', () => {
  it('puts the node online and gives the values that it carries', () => {
    const { online, readings, codes } = bench().birth([celsius('pot-1', 61.5)]);
    expect(online).toEqual([true]);
    expect(readings).toEqual([{ probe: 'pot-1', at: NOW, celsius: 61.5, quality: 'good' }]);
    expect(codes).toEqual([]);
  });

  it.each([
    ['pot-1', null, 'pot-1'],
    ['Inputs/Pot 1/Temperature', null, 'Inputs.Pot-1'],
    ['Temperature', 'pot-1', 'pot-1'],
    ['celsius', 'pot-1', 'pot-1'],
    ['inlet', 'bath', 'bath.inlet'],
    ['Temperature', null, 'Temperature'],
  ])('names the probe of metric %j of device %j %j', (name, device, probe) => {
    const { birth, send } = bench();
    const metric = celsius(name, 61.5);
    const born = birth(device === null ? [metric] : []);
    const { readings } =
      device === null
        ? born
        : send(`g/DBIRTH/edge/${device}`, encode({ timestamp: NOW, seq: 1, metrics: [metric] }));
    expect(readings.map((reading) => reading.probe)).toEqual([probe]);
  });

  it('gives the battery of a device to its probes, and that of the node to the rest', () => {
    const { birth, send } = bench();
    const level = (name: string, value: number): UMetric => ({ name, type: 'Int32', value, timestamp: NOW });
    const node = birth([level('Battery', 80)]);
    expect(node.statuses).toEqual([{ probe: null, at: NOW, battery_percent: 80 }]);
    const metrics = [
      celsius('inlet', 40),
      celsius('outlet', 41),
      level('Battery Level', 12),
      level('RSSI', -70),
    ];
    const { statuses, codes } = send('g/DBIRTH/edge/bath', encode({ timestamp: NOW, seq: 1, metrics }));
    expect(codes).toEqual([]);
    expect(statuses).toEqual([
      { probe: 'bath.inlet', at: NOW, battery_percent: 12 },
      { probe: 'bath.outlet', at: NOW, battery_percent: 12 },
      { probe: 'bath.inlet', at: NOW, signal_dbm: -70 },
      { probe: 'bath.outlet', at: NOW, signal_dbm: -70 },
    ]);
  });

  it('takes a battery in volts by its name, or by its unit', () => {
    const { birth } = bench();
    const volts = (name: string, value: number, unit?: string): UMetric => ({
      name,
      type: 'Float',
      value,
      timestamp: NOW,
      ...(unit !== undefined && { properties: { engUnit: { type: 'String', value: unit } } }),
    });
    expect(birth([volts('Battery Voltage', 3)]).statuses).toEqual([
      { probe: null, at: NOW, battery_volts: 3 },
    ]);
    expect(birth([volts('Battery', 2500, 'mV')]).statuses).toEqual([
      { probe: null, at: NOW, battery_volts: 2.5 },
    ]);
  });

  it('of more metrics than a node can have is cut, and the rest is reported', () => {
    const { birth } = bench();
    const many = Array.from(
      { length: 10_050 },
      (_, i): UMetric => ({ name: `m${i}`, type: 'String', value: '' }),
    );
    expect(birth(many).codes).toContain('sparkplug-too-many-metrics');
  });

  it('keeps two metrics apart that would be one probe', () => {
    const { birth, send } = bench();
    birth();
    const metrics = [celsius('celsius', 61), celsius('Temperature', 62)];
    const { readings } = send('g/DBIRTH/edge/pot', encode({ timestamp: NOW, seq: 1, metrics }));
    expect(readings.map(({ probe }) => probe)).toEqual(['pot', 'pot.Temperature']);
  });

  it.each([
    ['°C', 61.5, 61.5],
    ['K', 334.65, 61.5],
    ['degF', 142.7, 61.5],
  ])('takes a value in %s', (unit, value, expected) => {
    const properties = { engUnit: { type: 'String' as const, value: unit } };
    expect(bench().birth([celsius('pot-1', value, { properties })]).readings[0]?.celsius).toBeCloseTo(
      expected,
      9,
    );
  });

  it('takes a name that ends in the quantity where no unit is given, and reports any other number once', () => {
    const { readings, codes } = bench().birth([
      celsius('pot/temperature', 61.5, { properties: {} }),
      celsius('Humidity', 40, { properties: {} }),
      { name: 'Node Control/Rebirth', type: 'Boolean', value: false },
      { name: 'Node Info/uptime', type: 'Int64', value: 5 },
      { name: 'firmware', type: 'String', value: '1.0' },
    ]);
    expect(readings.map(({ probe }) => probe)).toEqual(['pot']);
    expect(codes).toEqual(['sparkplug-not-a-temperature']);
  });

  it.each([
    ['Int8', -5],
    ['Int16', -5],
    ['Int32', -5],
    ['Int64', -5],
    ['UInt8', 61],
    ['UInt16', 61],
    ['UInt32', 61],
    ['UInt64', 61],
    ['Float', 61.5],
    ['Double', 61.5],
  ] as const)('reads a value of type %s', (type, value) => {
    expect(bench().birth([celsius('pot-1', value, { type })]).readings).toMatchObject([{ celsius: value }]);
  });

  it('marks a value as doubtful whose quality is not good', () => {
    const quality = (value: number) => ({
      engUnit: { type: 'String' as const, value: 'Cel' },
      Quality: { type: 'Int32' as const, value },
    });
    const { readings } = bench().birth([
      celsius('a', 60, { properties: quality(192) }),
      celsius('b', 60, { properties: quality(500) }),
    ]);
    expect(readings.map((reading) => reading.quality)).toEqual(['good', 'suspect']);
  });

  it('of another group with the same node id is refused while the first one is online', () => {
    const { birth, send } = bench();
    birth();
    const secondBirth = encode({ timestamp: NOW, seq: 0, metrics: [bdSeq(0)] });
    expect(send('h/NBIRTH/edge', secondBirth).codes).toEqual(['sparkplug-node-twice']);
    // Nor does its death end the one that is online.
    expect(send('h/NDEATH/edge', encode({ timestamp: NOW, metrics: [bdSeq(0)] })).online).toEqual([]);
  });
});

describe('Sparkplug data', () => {
  it('is of its own device where two devices use one alias', () => {
    const { birth, send } = bench();
    birth();
    for (const [seq, device] of [
      [1, 'pot-1'],
      [2, 'pot-2'],
    ] as const)
      send(
        `g/DBIRTH/edge/${device}`,
        encode({ timestamp: NOW, seq, metrics: [celsius('Temperature', 60, { alias: 4 })] }),
      );
    const metrics = [{ alias: 4, type: 'Double', value: 62, timestamp: NOW + 5 } as UMetric];
    const { readings } = send('g/DDATA/edge/pot-1', encode({ timestamp: NOW, seq: 3, metrics }));
    expect(readings.map(({ probe }) => probe)).toEqual(['pot-1']);
  });

  it('under an alias that a birth gives twice is taken for neither metric', () => {
    const { birth, data } = bench();
    const born = birth([celsius('pot-1', 61, { alias: 4 }), celsius('pot-2', 20, { alias: 4 })]);
    expect(born.readings.map(({ probe }) => probe)).toEqual(['pot-1']);
    expect(born.codes).toEqual(['sparkplug-alias-twice']);
    const { readings } = data(1, [{ alias: 4, type: 'Double', value: 62, timestamp: NOW + 5 } as UMetric]);
    expect(readings).toEqual([]);
  });

  it('under the aliases of an earlier birth of its device is unknown, and a rebirth is requested', () => {
    const { birth, send } = bench();
    birth();
    const born = (seq: number, name: string, alias: number) =>
      send('g/DBIRTH/edge/bath', encode({ timestamp: NOW, seq, metrics: [celsius(name, 40, { alias })] }));
    born(1, 'inlet', 4);
    born(2, 'outlet', 5);
    const metrics = [{ alias: 4, type: 'Double', value: 41, timestamp: NOW + 5 } as UMetric];
    const { readings, codes, commands } = send(
      'g/DDATA/edge/bath',
      encode({ timestamp: NOW, seq: 3, metrics }),
    );
    expect([readings, codes, commands.length]).toEqual([[], ['sparkplug-unknown-metric'], 1]);
  });

  it('of a device that died is unknown until it is born again', () => {
    const { birth, send } = bench();
    birth();
    const metrics = [celsius('Temperature', 60)];
    send('g/DBIRTH/edge/pot-1', encode({ timestamp: NOW, seq: 1, metrics }));
    const death = send('g/DDEATH/edge/pot-1', encode({ timestamp: NOW, seq: 2, metrics: [] }));
    expect(death.gone).toMatchObject([{ gateway: 'edge', probes: ['pot-1'] }]);
    const { readings, commands } = send('g/DDATA/edge/pot-1', encode({ timestamp: NOW, seq: 3, metrics }));
    expect([readings, commands.length]).toEqual([[], 1]);
  });

  it('is understood by the alias that the birth gave', () => {
    const { birth, data } = bench();
    birth([celsius('pot-1', 61, { alias: 4 })]);
    const { readings } = data(1, [{ alias: 4, type: 'Double', value: 62, timestamp: NOW + 5 } as UMetric]);
    expect(readings).toEqual([{ probe: 'pot-1', at: NOW + 5, celsius: 62, quality: 'good' }]);
  });

  it('before any birth is refused, and its birth is requested once in half a minute', () => {
    const { data } = bench();
    const first = data(3, [celsius('pot-1', 61)]);
    expect(first.codes).toEqual(['sparkplug-no-birth']);
    expect(first.commands.map(({ topic }) => topic)).toEqual(['spBv1.0/g/NCMD/edge']);
    expect(decodePayload(first.commands[0]?.payload ?? new Uint8Array()).metrics).toMatchObject([
      { name: 'Node Control/Rebirth', type: 'Boolean', value: true },
    ]);
    expect(data(4, [celsius('pot-1', 61)], NOW + 29_999).commands).toEqual([]);
    expect(data(5, [celsius('pot-1', 61)], NOW + 30_000).commands).toHaveLength(1);
  });

  it('that overtook others waits for them', () => {
    const { birth, data } = bench();
    birth([celsius('pot-1', 60)]);
    expect(data(2, [celsius('pot-1', 62, { timestamp: NOW + 2 })]).readings).toEqual([]);
    expect(
      data(1, [celsius('pot-1', 61, { timestamp: NOW + 1 })]).readings.map((reading) => reading.celsius),
    ).toEqual([61, 62]);
  });

  it('is taken without those that do not come within five seconds, and the births of the node are requested', () => {
    const { birth, data, expire } = bench();
    birth([celsius('pot-1', 60)]);
    data(2, [celsius('pot-1', 62, { timestamp: NOW + 2 })]);
    expect(expire(NOW + 4999)).toMatchObject({ readings: [], commands: [] });
    const { readings, commands } = expire(NOW + 5000);
    expect(readings.map((reading) => reading.celsius)).toEqual([62]);
    expect(commands).toHaveLength(1);
    expect(data(3, [celsius('pot-1', 63, { timestamp: NOW + 3 })]).readings).toHaveLength(1);
    expect(data(1, [celsius('pot-1', 61, { timestamp: NOW + 1 })]).readings).toHaveLength(1);
  });

  it('counts from 255 on to 0', () => {
    const { birth, data } = bench();
    birth([celsius('pot-1', 60)], { seq: 254 });
    expect(data(255, [celsius('pot-1', 61)]).readings).toHaveLength(1);
    expect(data(0, [celsius('pot-1', 62)]).readings).toHaveLength(1);
  });

  it('with a metric that the birth did not name is refused in that metric, and the births of the node are requested', () => {
    const { birth, data } = bench();
    birth([celsius('pot-1', 60)]);
    const { readings, codes, commands } = data(1, [celsius('pot-1', 61), celsius('pot-2', 61)]);
    expect([readings.length, codes, commands.length]).toEqual([1, ['sparkplug-unknown-metric'], 1]);
  });

  it('of the past is marked as historical', () => {
    const { birth, data } = bench();
    birth([celsius('pot-1', 60)]);
    const past = celsius('pot-1', 99, { timestamp: NOW - 60_000, isHistorical: true });
    const { readings, historical } = data(1, [past, celsius('pot-1', 61)]);
    expect([readings.length, historical.map((reading) => reading.celsius)]).toEqual([2, [99]]);
  });

  it('of a null value is no reading and nothing wrong', () => {
    const { birth, data } = bench();
    const isNull = { name: 'pot-1', type: 'Double', value: null } as const;
    expect(birth([celsius('pot-1', 0, { value: null })])).toMatchObject({ readings: [], codes: [] });
    expect(data(1, [isNull])).toMatchObject({ readings: [], codes: [], commands: [] });
    expect(data(2, [celsius('pot-1', 61)]).readings).toMatchObject([{ celsius: 61 }]);
  });

  it('whose value is marked as null has none, whatever else it carries', () => {
    const { birth, send } = bench();
    birth([celsius('pot-1', 60)]);
    // metrics { name: "pot-1", datatype: Double, is_null: true, double_value: 95 }, seq: 1
    const metric = '0a05706f742d31200a380169 0000000000c05740'.replaceAll(' ', '');
    const bytes = Buffer.from(`12${(metric.length / 2).toString(16)}${metric}1801`, 'hex');
    expect(send('g/NDATA/edge', bytes)).toMatchObject({ readings: [], codes: [] });
  });
});

describe('a Sparkplug death', () => {
  it('takes the node offline, and its data is refused until the next birth', () => {
    const { birth, data, send } = bench();
    birth([celsius('pot-1', 60)], { death: 7 });
    expect(send('g/NDEATH/edge', encode({ timestamp: NOW, metrics: [bdSeq(7)] })).online).toEqual([false]);
    expect(data(1, [celsius('pot-1', 61)]).codes).toEqual(['sparkplug-no-birth']);
  });

  it('of an earlier connection is passed over', () => {
    const { birth, data, send } = bench();
    birth([celsius('pot-1', 60)], { death: 8 });
    expect(send('g/NDEATH/edge', encode({ timestamp: NOW, metrics: [bdSeq(7)] })).online).toEqual([]);
    expect(data(1, [celsius('pot-1', 61)]).readings).toHaveLength(1);
  });
});

describe('the Sparkplug host', () => {
  it.each([
    ['g/NBIRTH', 'sparkplug-topic'],
    ['g/NBIRTH/edge/device', 'sparkplug-topic'],
    ['g/DDATA/edge', 'sparkplug-topic'],
    ['g/XDATA/edge', 'sparkplug-topic'],
    [`g/NDATA/${'long'.repeat(17)}`, 'gateway-id'],
  ])('refuses topic %s as %s', (topic, code) => {
    expect(bench().send(topic, encode({ timestamp: NOW, seq: 0, metrics: [] })).codes).toEqual([code]);
  });

  it.each(['g/NCMD/edge', 'g/DCMD/edge/device', 'STATE/some-host'])('passes over %s', (topic) => {
    expect(bench().send(topic, new Uint8Array([255]))).toMatchObject({ online: [], codes: [], commands: [] });
  });

  it('refuses what is retained', () => {
    const payload = encode({ timestamp: NOW, seq: 0, metrics: [bdSeq(1)] });
    expect(bench().send('g/NBIRTH/edge', payload, NOW, 'retained').codes).toEqual(['sparkplug-retained']);
  });

  it('remembers no more than 200 nodes', () => {
    const { send } = bench();
    const payload = encode({ timestamp: NOW, seq: 0, metrics: [bdSeq(1)] });
    const refused = Array.from(
      { length: 201 },
      (_, node) => send(`g/NBIRTH/edge-${node}`, payload).codes,
    ).flat();
    expect(refused).toEqual(['sparkplug-too-many-nodes']);
  });

  it('gives every value of a shuffled stream once, in the order of its sequence', () => {
    const delays = fc.array(fc.integer({ min: 0, max: 20 }), { minLength: 5, maxLength: 300 });
    fc.assert(
      fc.property(delays, (late) => {
        const { birth, data } = bench();
        birth([celsius('pot-1', 0)]);
        const order = late
          .map((delay, index) => ({ index, arrives: index + delay }))
          .sort((first, second) => first.arrives - second.arrives);
        const taken = order.flatMap(({ index }) =>
          data((index + 1) % 256, [celsius('pot-1', index, { timestamp: NOW + index })]).readings.map(
            (reading) => reading.at - NOW,
          ),
        );
        expect(taken).toEqual(late.map((_, index) => index));
      }),
      { numRuns: 30 },
    );
  });

  it('throws at no bytes, on any topic', () => {
    const topics = fc.constantFrom(
      'g/NBIRTH/edge',
      'g/NDATA/edge',
      'g/DBIRTH/edge/d',
      'g/DDATA/edge/d',
      'g/NDEATH/edge',
    );
    const valid = encode({ timestamp: NOW, seq: 1, metrics: [celsius('pot-1', 61, { alias: 3 })] });
    const bytes = fc.oneof(
      fc.uint8Array({ maxLength: 200 }),
      fc.array(fc.tuple(fc.nat(valid.length - 1), fc.nat(255)), { maxLength: 6 }).map((edits) => {
        const copy = Uint8Array.from(valid);
        for (const [at, value] of edits) copy[at] = value;
        return copy;
      }),
    );
    fc.assert(
      fc.property(fc.array(fc.tuple(topics, bytes), { maxLength: 40 }), (messages) => {
        const { send, expire } = bench();
        for (const [topic, payload] of messages) send(topic, payload);
        expire(NOW + 10_000);
      }),
    );
  });
});
