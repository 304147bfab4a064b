// The table of docs/connect-a-probe.md, run: every row has a case here, every case a row, and the outcome is the
// one that the document promises.

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { decodeMessage } from '../../collector/decode/decode-message.ts';
import type { Message } from '../../collector/decode/message.ts';
import { qualify } from '../../collector/qualify/qualify.ts';
import type { QualifyState } from '../../collector/qualify/probe-record.ts';
import type { Lab } from '../../lab/lab.ts';
import { epochMillis } from '../../wax/units.ts';

const NOW = Date.UTC(2026, 5, 1, 8);
const SITE = 'lab-1';
const LAB: Lab = {
  site: {
    id: SITE,
    name: 'Lab',
    timeZone: 'Europe/Berlin',
    workingHours: { mon: [], tue: [], wed: [], thu: [], fri: [], sat: [], sun: [] },
    holidays: [],
  },
  stations: [],
  probes: [],
  charges: [],
  patterns: [],
  people: [],
  waxOverrides: {},
};

interface Sent {
  readonly topic: string;
  readonly payload: string | Uint8Array;
  readonly delivery?: Message['delivery'];
}

/** What comes of the last of some messages, ten seconds apart: the rejection's code, or the reading's quality. */
const outcome = (...sent: readonly Sent[]): string => {
  const state: QualifyState = {};
  const stored = new Map<string, number>();
  let last = 'nothing';
  for (const [index, { topic, payload, delivery = 'live' }] of sent.entries()) {
    const bytes = typeof payload === 'string' ? new TextEncoder().encode(payload) : payload;
    const receivedAt = epochMillis(NOW + index * 10_000);
    const decoded = decodeMessage({ topic, payload: bytes, receivedAt, delivery, site: SITE });
    last = decoded.rejections[0]?.code ?? 'nothing';
    for (const entry of decoded.entries) {
      const step = qualify(state, entry, LAB, (probe, at) => stored.get(`${probe} ${at}`) ?? null);
      const taken = step.entry?.kind === 'readings' ? step.entry.readings : [];
      for (const { probe, at, celsius } of taken) stored.set(`${probe} ${at}`, celsius);
      const quality = step.entry?.kind === 'readings' ? step.entry.readings[0]?.quality : undefined;
      if (last === 'nothing') last = step.rejections[0]?.code ?? quality ?? 'nothing';
    }
  }
  return last;
};
const plain = (payload: string | Uint8Array, gateway = 'gw'): Sent => ({
  topic: `wax/${SITE}/${gateway}/pot-1/celsius`,
  payload,
});
const senml = (...records: readonly object[]): Sent => ({
  topic: `wax/${SITE}/gw/senml`,
  payload: JSON.stringify(records),
});
const measured = (seconds: number): Sent => senml({ n: 'pot-1', u: 'Cel', v: 60, t: seconds });
const year = (value: number): number => Date.UTC(value, 0, 1) / 1000;
const on = (topic: string): Sent => ({ topic, payload: '61.5' });
const humid = { n: 'pot-1', u: '%RH', v: 40 };

const CASES: Readonly<Record<string, readonly Sent[]>> = {
  'a word instead of a number': [plain('warm')],
  '`NaN`': [plain('NaN')],
  'a decimal comma, `61,5`': [plain('61,5')],
  'a number with its unit, `61.5 C`': [plain('61.5 C')],
  'JSON on the topic of plain numbers': [plain('{"value":{"celsius":61.5}}')],
  '`1e308`': [plain('1e308')],
  '`-127`, as libraries answer for a missing probe': [plain('-127.00')],
  'an empty message': [plain('')],
  'a message of 1 MB': [plain('6'.repeat(1_000_000))],
  'bytes that are not UTF-8': [plain(Uint8Array.of(0xc3, 0x28))],
  'SenML that is not JSON': [{ ...senml(), payload: 'n=pot-1' }],
  'JSON that names a member of an object twice': [
    { ...senml(), payload: '[{"n":"pot-1","u":"Cel","v":61.5,"v":20}]' },
  ],
  'a battery of 150 %': [senml({ n: 'pot-1', u: 'Cel', v: 61.5 }, { n: 'pot-1', u: '%EL', v: 150 })],
  'a battery of a probe that never measured': [senml({ n: 'pot-9', u: '%EL', v: 50 })],
  'nested JSON of another kind on the topic of SenML': [{ ...senml(), payload: '{"a":{"b":[61.5]}}' }],
  'a base field of the wrong type': [senml({ bt: '0', n: 'pot-1', u: 'Cel', v: 61.5 })],
  'a record with a field of the wrong type': [
    senml({ n: 'pot-1', u: 'Cel', v: '61.5' }, { n: 'pot-2', u: 'Cel', v: 61.5 }),
  ],
  'a pack of a newer version': [senml({ bver: 99, n: 'pot-1', u: 'Cel', v: 61.5 })],
  'a pack with a field that must be understood and is not': [senml({ n: 'pot-1', u: 'Cel', v: 61.5, x_: 1 })],
  'a record in `C`, which SenML has for coulombs, or in a spelling that SenML does not have': [
    senml({ n: 'pot-1', u: 'C', v: 61.5 }),
    senml({ n: 'pot-1', u: 'degF', v: 142 }),
  ],
  'SenML that is not CBOR on the topic of CBOR': [{ ...senml(), topic: `wax/${SITE}/gw/senml-cbor` }],
  'a resistance of 11 MΩ': [senml({ n: 'pot-1', u: 'Ohm', v: 11e6 })],
  'a record of humidity beside one of temperature': [senml({ n: 'pot-1', u: 'Cel', v: 21 }, humid)],
  'a record without a unit': [senml({ n: 'pot-1', v: 61.5 })],
  'a time in 1970, written as seconds since then': [measured(20_000_000)],
  'a time before 2001, as of a clock never set': [measured(year(2000))],
  'a time in 2100': [measured(year(2100))],
  'a time in 2100 beside one of today in the same pack': [
    senml({ n: 'pot-1', u: 'Cel', v: 60, t: year(2100) }, { n: 'pot-1', u: 'Cel', v: 60, t: NOW / 1000 }),
  ],
  'a clock an hour ahead': [measured(NOW / 1000 + 3600)],
  'a clock an hour behind': [measured(NOW / 1000 - 3600), measured(NOW / 1000 - 3590)],
  'a clock that jumps to and fro': [
    measured(NOW / 1000),
    measured(NOW / 1000 + 3610),
    measured(NOW / 1000 - 3580),
    measured(NOW / 1000 + 630),
  ],
  'a reading of last year': [measured(year(2025))],
  'the same reading again': [measured(NOW / 1000), measured(NOW / 1000)],
  'another value for an instant of which one is kept': [
    measured(NOW / 1000),
    senml({ n: 'pot-1', u: 'Cel', v: 61, t: NOW / 1000 }),
  ],
  'a plain number that the broker kept while the collector was away': [
    { ...plain('61.5'), delivery: 'queued' },
  ],
  'a retained plain number on connecting': [{ ...plain('61.5'), delivery: 'retained' }],
  'an unknown topic': [on(`wax/${SITE}/gw/pot-1/fahrenheit`)],
  'the topic of another site': [on('wax/lab-2/gw/pot-1/celsius')],
  'a topic on which only the collector publishes': [on(`wax/${SITE}/station/pot-1`)],
  'a gateway name with a blank': [on(`wax/${SITE}/my gateway/pot-1/celsius`)],
  'a probe name with an umlaut': [on(`wax/${SITE}/gw/töpfchen/celsius`)],
  'a gateway state that is neither online nor offline': [{ topic: `wax/${SITE}/gw/state`, payload: 'dead' }],
  'one probe id from two gateways': [plain('60'), plain('20', 'gw-2')],
  '85.000 °C from a freshly powered digital probe': [plain('85.000')],
  '85.000 °C from a pot that came from 84.5 °C': [plain('84.5'), plain('85.000')],
  '600 °C': [plain('600')],
};

const document = readFileSync(new URL('../../docs/connect-a-probe.md', import.meta.url), 'utf8');
const rows = document
  .slice(document.indexOf('## What happens to bad input'))
  .split('\n')
  .filter((line) => line.startsWith('| ') && !line.startsWith('| input'))
  .map((line) => line.split('|').map((cell) => cell.trim()));

describe('bad input', () => {
  it('has a row in the document for every case, and a case for every row', () => {
    expect(rows.map(([, input]) => input)).toEqual(Object.keys(CASES));
  });

  it.each(rows.map(([, input = '', promised = '']) => [input, promised.replaceAll('`', '')] as const))(
    '%s: %s',
    (input, promised) => {
      expect(outcome(...(CASES[input] ?? []))).toBe(promised);
    },
  );
});
