import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { filterParts, mappingFault, type PayloadMapping } from '../../lab/database/payload-mapping.ts';
import { epochMillis } from '../../wax/units.ts';
import { decodeMapped } from './mapped-json.ts';

const NOW = epochMillis(Date.UTC(2026, 5, 1, 8));
const mapping = (more: Partial<PayloadMapping> = {}): PayloadMapping => ({
  id: 'loggers',
  isOn: true,
  topic: 'pots/+/values',
  gateway: 'loggers',
  probe: '{1}',
  value: '/ds/0/t',
  unit: 'Cel',
  ...more,
});
const decode = (payload: unknown, maps = [mapping()], topic = 'pots/pot-1/values') =>
  decodeMapped(
    {
      topic,
      payload: new TextEncoder().encode(typeof payload === 'string' ? payload : JSON.stringify(payload)),
      receivedAt: NOW,
      delivery: 'live',
      site: 'lab-1',
    },
    maps,
  );
const readings = (...given: Parameters<typeof decode>) =>
  decode(...given)?.entries.flatMap((entry) => (entry.kind === 'readings' ? entry.readings : []));
const codes = (...given: Parameters<typeof decode>) => decode(...given)?.rejections.map(({ code }) => code);

describe('a mapping of JSON', () => {
  it('takes the value at its pointer, of the probe that the topic names, as of arrival', () => {
    expect(readings({ ds: [{ t: 61.5 }] })).toEqual([
      { probe: 'pot-1', at: NOW, celsius: 61.5, quality: 'good' },
    ]);
  });

  it.each([
    ['a number as text', { ds: [{ t: '61.5' }] }, {}, 61.5],
    ['Fahrenheit', { ds: [{ t: 142.7 }] }, { unit: 'Far' }, 61.5],
    ['a key with a slash', { 'a/b': 61.5 }, { value: '/a~1b' }, 61.5],
    ['a document that is the value', 61.5, { value: '' }, 61.5],
  ] as const)('takes %s', (_, payload, more, celsius) => {
    expect(readings(payload, [mapping(more)])).toMatchObject([{ celsius }]);
  });

  it.each([
    ['iso', '2026-06-01T07:59:00Z'],
    ['seconds', NOW / 1000 - 60],
    ['milliseconds', NOW - 60_000],
  ] as const)('takes the time of measurement as %s', (timeFormat, at) => {
    expect(readings({ ds: [{ t: 61.5 }], at }, [mapping({ time: '/at', timeFormat })])).toMatchObject([
      { at: NOW - 60_000 },
    ]);
  });

  it.each([
    ['no JSON', 'ds=61.5', {}, 'mapping-not-json'],
    ['no value', { ds: [] }, {}, 'mapping-no-value'],
    ['a value that is inherited', {}, { value: '/constructor/length' }, 'mapping-no-value'],
    ['the length of an array', { ds: [61.5] }, { value: '/ds/length' }, 'mapping-no-value'],
    ['an index with a leading nought', { ds: [{ t: 1 }] }, { value: '/ds/00/t' }, 'mapping-no-value'],
    ['a value that is no number', { ds: [{ t: null }] }, {}, 'value-not-a-number'],
    ['no time', { ds: [{ t: 61.5 }] }, { time: '/at' }, 'mapping-no-time'],
    ['a time that is no instant', { ds: [{ t: 61.5 }], at: '5' }, { time: '/at' }, 'mapping-no-time'],
    ['a probe name that none may have', { ds: [{ t: 61.5 }] }, { probe: 'pot 1' }, 'probe-id'],
  ] as const)('refuses %s', (_, payload, more, code) => {
    expect(codes(payload, [mapping(more)])).toEqual([code]);
  });

  it('leaves alone what it does not match and what it is switched off for', () => {
    expect(decode({}, [mapping()], 'pots/pot-1/state')).toBeNull();
    expect(decode({}, [mapping({ isOn: false })])).toBeNull();
  });

  it('takes its value beside another one of the same topic', () => {
    const both = [mapping({ probe: 'a', value: '/a' }), mapping({ probe: 'b', value: '/b' })];
    expect(readings({ a: 1, b: 2 }, both)).toMatchObject([{ probe: 'a' }, { probe: 'b' }]);
  });

  it('throws at no document and no pointer', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.string(), fc.string(), (document, value, time) => {
        decode(document, [mapping({ value: `/${value}`, time: `/${time}` })]);
      }),
    );
  });
});

describe('the topic of a mapping', () => {
  it.each([
    ['a/+/c', 'a/b/c', ['b']],
    ['a/#', 'a/b/c', []],
    ['a/+/#', 'a/b/c/d', ['b']],
    ['a/b', 'a/b/c', null],
    ['a/+/c', 'a/b', null],
  ] as const)('%s against %s', (filter, topic, parts) => {
    expect(filterParts(filter, topic)).toEqual(parts);
  });

  it.each(['wax/lab-1/x', 'spBv1.0/x', '#', '+/x', '$SYS/x', 'a/#/b', 'a/b+'])('is not %s', (topic) => {
    expect(mappingFault(mapping({ topic, probe: 'p' }))).toMatchObject({
      code: 'mapping-topic',
      field: 'topic',
    });
  });

  it('has every wildcard that the name of the probe uses', () => {
    expect(mappingFault(mapping({ probe: '{2}' }))).toMatchObject({ code: 'mapping-probe', field: 'probe' });
    expect(mappingFault(mapping())).toBeNull();
  });
});
