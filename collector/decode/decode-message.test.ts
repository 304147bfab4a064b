// What each kind of message becomes, with both sides of every edge.

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { epochMillis } from '../../wax/units.ts';
import { decodeMessage } from './decode-message.ts';
import type { Message } from './message.ts';
import { SAMPLE_BYTES } from './rejection.ts';

const NOW = epochMillis(Date.UTC(2026, 5, 1, 8));
const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const message = (topic: string, payload: string | Uint8Array, more: Partial<Message> = {}): Message => ({
  topic,
  payload: typeof payload === 'string' ? bytes(payload) : payload,
  receivedAt: NOW,
  delivery: 'live',
  site: 'lab-1',
  ...more,
});
const decode = (topic: string, payload: string | Uint8Array, more: Partial<Message> = {}) =>
  decodeMessage(message(topic, payload, more));
const codes = (topic: string, payload: string | Uint8Array, more: Partial<Message> = {}) =>
  decode(topic, payload, more).rejections.map(({ code }) => code);
const readings = (topic: string, payload: string | Uint8Array, more: Partial<Message> = {}) =>
  decode(topic, payload, more).entries.flatMap((entry) => (entry.kind === 'readings' ? entry.readings : []));

const PLAIN = 'wax/lab-1/gw/pot-1/celsius';
const SENML = 'wax/lab-1/gw/senml';
const STATE = 'wax/lab-1/gw/state';

describe('a plain number', () => {
  it('is one reading of its probe, measured on arrival', () => {
    expect(decode(PLAIN, '61.5')).toEqual({
      entries: [
        {
          kind: 'readings',
          receivedAt: NOW,
          gateway: 'gw',
          stampedBy: 'arrival',
          readings: [{ probe: 'pot-1', at: NOW, celsius: 61.5, quality: 'good' }],
        },
      ],
      rejections: [],
    });
  });

  it.each([
    ['61', 61],
    ['+61.5', 61.5],
    ['-5', -5],
    ['.5', 0.5],
    ['61.', 61],
    [' 61.5\r\n', 61.5],
    ['6.15e1', 61.5],
    ['6.15E+1', 61.5],
    ['85.000', 85],
    ['-100', -100],
    ['1372', 1372],
  ])('%j is taken as %d °C', (text, celsius) => {
    expect(readings(PLAIN, text)).toMatchObject([{ celsius }]);
  });

  it.each([
    ['', 'empty'],
    [' \n', 'empty'],
    ['warm', 'number-expected'],
    ['NaN', 'number-expected'],
    ['Infinity', 'number-expected'],
    ['null', 'number-expected'],
    ['0x40', 'number-expected'],
    ['61,5', 'number-expected'],
    ['61.5 C', 'number-expected'],
    ['61.5\u00a0°C', 'number-expected'],
    ['1 2', 'number-expected'],
    ['{"celsius":{"value":61.5}}', 'number-expected'],
    ['1e308', 'out-of-range'],
    ['1e999', 'out-of-range'],
    ['-1e308', 'out-of-range'],
    ['-100.001', 'out-of-range'],
    ['1372.001', 'out-of-range'],
    ['-127', 'probe-disconnected'],
    ['-127.00', 'probe-disconnected'],
  ])('%j is refused as %s', (text, code) => {
    expect(decode(PLAIN, text).entries).toEqual([]);
    expect(codes(PLAIN, text)).toEqual([code]);
  });

  it('that is not UTF-8 is refused', () => {
    expect(codes(PLAIN, Uint8Array.of(0x36, 0xff))).toEqual(['not-utf8']);
  });

  it('that the broker kept while we were away has an uncertain time', () => {
    expect(readings(PLAIN, '61.5', { delivery: 'queued' })).toMatchObject([{ quality: 'uncertain-time' }]);
  });

  it('that the broker keeps as the last of its topic is of unknown age and is refused', () => {
    expect(codes(PLAIN, '61.5', { delivery: 'retained' })).toEqual(['retained-without-time']);
  });

  it.each([
    [65_536, 'number-expected'],
    [65_537, 'too-large'],
    [1_000_000, 'too-large'],
  ])('of %d bytes is refused as %s, with its first kilobyte kept', (length, code) => {
    const [rejection] = decode(PLAIN, 'x'.repeat(length)).rejections;
    expect(rejection).toMatchObject({ topic: PLAIN, code, at: NOW, bytes: length });
    expect(rejection?.sample.length).toBe(SAMPLE_BYTES);
  });
});

describe('names in a topic', () => {
  it.each([
    ['wax/lab-1/gw/Pot_1.a-b/celsius', []],
    [`wax/lab-1/gw/${'p'.repeat(64)}/celsius`, []],
    [`wax/lab-1/gw/${'p'.repeat(65)}/celsius`, ['probe-id']],
    ['wax/lab-1/gw//celsius', ['probe-id']],
    ['wax/lab-1/gw/../celsius', ['probe-id']],
    ['wax/lab-1/gw/./celsius', ['probe-id']],
    ['wax/lab-1/../pot/celsius', ['gateway-id']],
    ['wax/lab-1/gw/pot 1/celsius', ['probe-id']],
    ['wax/lab-1/gw/töpfchen/celsius', ['probe-id']],
    ['wax/lab-1/g w/pot-1/celsius', ['gateway-id']],
    ['wax/lab-1//senml', ['gateway-id']],
    ['wax/lab-1/gw/pot-1/fahrenheit', ['unknown-topic']],
    ['wax/lab-1/gw/celsius', ['unknown-topic']],
    ['wax/lab-1/gw/room/pot-1/celsius', ['unknown-topic']],
    ['wax/lab-1', ['unknown-topic']],
    ['home/kitchen', ['unknown-topic']],
    ['wax/lab-2/gw/pot-1/celsius', ['other-site']],
    ['wax/lab-1/station/pot-1', ['reserved-topic']],
    ['wax/lab-1/alarm/pot-1/celsius', ['reserved-topic']],
    ['wax/lab-1/collector/state', ['reserved-topic']],
    ['wax/lab-1/change/pot-1/celsius', ['reserved-topic']],
  ])('%s: %j', (topic, expected) => {
    expect(codes(topic, topic.endsWith('senml') ? '[{"n":"a","u":"Cel","v":1}]' : '61.5')).toEqual(expected);
  });
});

describe('the state of a gateway', () => {
  it.each([
    ['online', true],
    ['offline', false],
    ['offline\n', false],
  ])('%j says so, retained or not', (text, online) => {
    for (const delivery of ['live', 'queued', 'retained'] as const)
      expect(decode(STATE, text, { delivery })).toEqual({
        entries: [{ kind: 'gateway', receivedAt: NOW, gateway: 'gw', online }],
        rejections: [],
      });
  });

  it.each(['Online', 'dead', '{"online":true}', '1'])('%j is refused', (text) => {
    expect(codes(STATE, text)).toEqual(['gateway-state']);
  });

  it('by which a broker clears a topic is no message', () => {
    expect(decode(STATE, '', { delivery: 'retained' })).toEqual({ entries: [], rejections: [] });
  });
});

describe('a SenML pack', () => {
  const pack = (...records: readonly object[]): string => JSON.stringify(records);
  const at = (iso: string): number => Date.parse(iso) / 1000;

  it('is read with the probe behind the last slash or colon of the name', () => {
    const payload = pack(
      { bn: 'urn:dev:ow:', bt: at('2026-06-01T07:00:00Z'), bu: 'Cel', n: '10e2073a01080063', v: 23.1 },
      { bn: 'lab/pots/', n: 'pot-1', v: 61.5, t: 1.25 },
    );
    expect(readings(SENML, payload)).toEqual([
      { probe: '10e2073a01080063', at: Date.parse('2026-06-01T07:00:00Z'), celsius: 23.1, quality: 'good' },
      { probe: 'pot-1', at: Date.parse('2026-06-01T07:00:01.250Z'), celsius: 61.5, quality: 'good' },
    ]);
  });

  it('takes kelvin as the temperature that it is', () => {
    expect(readings(SENML, pack({ n: 'a', u: 'K', v: 296.25 }))).toMatchObject([{ celsius: 23.1 }]);
  });

  it('refuses records by themselves and takes the rest', () => {
    const payload = pack(
      { n: 'a', u: 'Cel', v: 20 },
      { n: 'a', u: '%RH', v: 40 },
      { n: 'b', u: 'degF', v: 68 },
      { n: 'c', v: 20 },
      { n: 'd', u: 'Cel', vs: 'warm' },
      { n: 'e', u: 'Cel', v: 1e308 },
      { n: 'f', u: 'constructor', v: 1 },
      { n: 'g/', u: 'Cel', v: 20 },
      { n: 'h', u: 'Cel', v: 21 },
    );
    expect(readings(SENML, payload).map(({ probe }) => probe)).toEqual(['a', 'h']);
    expect(codes(SENML, payload)).toEqual([
      'unit-not-temperature',
      'unit-not-temperature',
      'unit-missing',
      'value-not-a-number',
      'out-of-range',
      'unit-not-temperature',
      'probe-id',
    ]);
  });

  it.each([
    ['that is nested JSON of another kind', '{"celsius":{"value":61.5}}', 'senml-not-a-pack'],
    ['that is cut off', '[{"n":"a"', 'senml-not-json'],
    ['that is empty', '', 'empty'],
    ['that is 60,000 opening brackets', '['.repeat(60_000), 'senml-not-json'],
    ['nested 5,000 deep', `${'['.repeat(5000)}${']'.repeat(5000)}`, 'senml-record'],
    ['with a value nested 5,000 deep', `[{"v":${'['.repeat(5000)}${']'.repeat(5000)}}]`, 'senml-field'],
  ])('%s is refused', (_, payload, code) => {
    expect(codes(SENML, payload)).toEqual([code]);
    expect(decode(SENML, payload).entries).toEqual([]);
  });

  const aged = (seconds: number, more: Partial<Message> = {}) => {
    const decoded = decode(SENML, pack({ n: 'a', u: 'Cel', v: 20, t: seconds }), more);
    const [entry] = decoded.entries;
    return {
      codes: decoded.rejections.map(({ code }) => code),
      reading: entry?.kind === 'readings' ? entry.readings[0] : undefined,
    };
  };
  const now = NOW / 1000;

  it.each([
    ['a week ago', now - 7 * 86_400],
    ['in 2013, as a backlog from a card', at('2013-07-04T00:00:00Z')],
    ['at the first instant that is believed', at('2001-01-01T00:00:00Z')],
    ['two minutes ahead', now + 120],
  ])('measured %s is taken as it is', (_, seconds) => {
    expect(aged(seconds)).toEqual({
      codes: [],
      reading: { probe: 'a', at: seconds * 1000, celsius: 20, quality: 'good' },
    });
  });

  it.each([
    ['beyond any date', 1e300, 'time-in-future'],
    ['56 years ago by a relative time', -now, 'time-too-old'],
  ])('measured %s is refused as %s', (_, seconds, code) => {
    expect(aged(seconds)).toEqual({ codes: [code], reading: undefined });
  });

  it.each([
    ['in 2000', at('2000-12-31T23:59:59Z'), 'clock-not-set'],
    ['in 1980', at('1980-01-06T00:00:00Z'), 'clock-not-set'],
    ['more than two minutes ahead', now + 121, 'clock-ahead'],
    ['in 2100', at('2100-01-01T00:00:00Z'), 'clock-ahead'],
    // A Unix time below 2^28 is relative by the standard, so a clock that runs since 1970 counts from now.
    ['on 3 January 1970', 2 * 86_400, 'clock-not-set'],
  ])('stamped %s keeps its stamp and is named as %s', (_, seconds, code) => {
    expect(aged(seconds)).toEqual({
      codes: [code],
      reading: { probe: 'a', at: seconds * 1000, celsius: 20, quality: 'good' },
    });
  });

  it('that can be none is refused beside one that can be', () => {
    const payload = pack({ bn: 'a', bu: 'Cel', t: now, v: 1 }, { v: 2, t: at('2100-01-01T00:00:00Z') });
    expect(codes(SENML, payload)).toEqual(['time-in-future']);
    expect(readings(SENML, payload)).toMatchObject([{ at: NOW, celsius: 1 }]);
  });

  it('from a wrong clock is of unknown age when the broker retained it', () => {
    expect(aged(now + 3600, { delivery: 'retained' }).codes).toEqual(['retained-without-time']);
    expect(aged(at('2000-01-01T00:00:00Z'), { delivery: 'retained' }).codes).toEqual([
      'retained-without-time',
    ]);
  });

  it('without absolute times is uncertain from a queue and refused when retained', () => {
    expect(aged(-5, { delivery: 'queued' }).reading?.quality).toBe('uncertain-time');
    expect(aged(-5, { delivery: 'retained' }).codes).toEqual(['retained-without-time']);
  });

  it('with absolute times is as good from a queue or retained as live', () => {
    expect(aged(now - 5, { delivery: 'queued' }).reading?.quality).toBe('good');
    expect(aged(now - 5, { delivery: 'retained' }).reading?.quality).toBe('good');
  });
});

describe('any message', () => {
  it('gives entries or a rejection, never an exception and never nothing', () => {
    const topic = fc.constantFrom(PLAIN, SENML, STATE, 'wax/lab-1/x', 'y');
    const payload = fc.oneof(
      fc.uint8Array({ maxLength: 200 }),
      fc.string().map(bytes),
      fc.json().map(bytes),
      fc
        .array(fc.dictionary(fc.constantFrom('n', 'bn', 'u', 'v', 't', 'bt', 'vs', 'x'), fc.jsonValue()))
        .map((value) => bytes(JSON.stringify(value))),
    );
    fc.assert(
      fc.property(topic, payload, (where, what) => {
        const { entries, rejections } = decode(where, what);
        expect(entries.length + rejections.length).toBeGreaterThan(0);
        for (const { probe, celsius } of readings(where, what)) {
          expect(probe).toMatch(/^[A-Za-z0-9._-]{1,64}$/);
          expect(Number.isFinite(celsius)).toBe(true);
        }
      }),
    );
  });
});
