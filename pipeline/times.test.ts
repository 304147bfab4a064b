// Wrong clocks, repeats and backlogs with heat in them, from the message of a gateway through decoder, journal,
// qualification, rules and store to what a person, a lamp and a webhook would get.

import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { waxWatch } from '../alerts/watch/wax-watch.ts';
import { decodeMessage } from '../collector/decode/decode-message.ts';
import { rejectionEntries } from '../collector/decode/rejection.ts';
import { arrivalInstants } from '../collector/intake/arrival-instants.ts';
import { gatewayOnline, gatewayRecord } from '../collector/qualify/probe-record.ts';
import { qualify } from '../collector/qualify/qualify.ts';
import type { Entry } from '../lab/entry.ts';
import { type DataFolder, openDataFolder } from '../tests/data-folder-for-tests.ts';
import { epochMillis } from '../wax/units.ts';
import type { Judged } from './batch.ts';
import { Pipeline } from './pipeline.ts';
import type { LabChange } from './published.ts';

const START = Date.UTC(2026, 2, 4, 8);
const HOUR = 3600;
const DAY = 24 * HOUR;

let data: DataFolder;
let pipeline: Pipeline;
let judged: Judged[];
let published: LabChange[];

beforeEach(async () => {
  data = await openDataFolder(epochMillis(START), { withPot: true });
  const { journal } = data;
  judged = [];
  published = [];
  pipeline = new Pipeline({
    watch: waxWatch,
    qualify,
    store: data.store,
    reader: data.reader,
    lab: data.repository.lab,
    journalEnd: journal.end,
    append: (entries) => journal.append(entries),
    alongside: (batch) => {
      judged.push(batch);
      return [];
    },
    delay: async () => {},
  });
  pipeline.subscribe((change) => published.push(change));
});
afterEach(async () => {
  await pipeline.stop();
  await data.close();
});

/** What a gateway sends: at which second by the collector's clock it arrives, and which second it is stamped with. */
interface Sent {
  readonly arrives: number;
  readonly stamped: number;
  readonly celsius: number;
}
const entriesOf = ({ arrives, stamped, celsius }: Sent): readonly Entry[] => {
  const { entries, rejections } = decodeMessage({
    topic: 'wax/lab/gw/senml',
    payload: Buffer.from(JSON.stringify([{ n: 'pot-wax', u: 'Cel', t: START / 1000 + stamped, v: celsius }])),
    receivedAt: epochMillis(START + arrives * 1000),
    delivery: 'live',
    site: 'lab',
  });
  return [...entries, ...rejectionEntries(rejections)];
};
const tick = (second: number): Entry => ({ kind: 'tick', receivedAt: epochMillis(START + second * 1000) });
const take = async (...entries: readonly Entry[]): Promise<void> => {
  await data.journal.append(entries);
  await pipeline.drain();
};
const send = (...sent: readonly Sent[]) => take(...sent.flatMap(entriesOf));

const raisedNow = () =>
  judged.flatMap(({ alarmChanges }) =>
    alarmChanges
      .filter(({ kind, alarm }) => kind.startsWith('raised') && alarm.tense === 'now')
      .map(({ alarm }) => alarm.rule),
  );
const rows = () =>
  data.store.raw({ probe: 'pot-wax', from: epochMillis(0), to: epochMillis(START * 2), limit: 1e6 });

/** A pot at 60 °C, from second 900 on at 160 °C, by its own readings every ten seconds. */
const pot = (
  off: (second: number) => number,
  collectorOff: (second: number) => number = () => 0,
): readonly Sent[] =>
  Array.from({ length: 97 }, (_, index) => index * 10).map((second) => ({
    arrives: second + collectorOff(second),
    stamped: second + off(second),
    celsius: second < 900 ? 60 + (second % 70) / 100 : 160 + (second % 70) / 100,
  }));

const CLOCKS: readonly (readonly [string, (second: number) => number])[] = [
  ['is right', () => 0],
  ['is three minutes ahead', () => 180],
  ['is an hour ahead', () => HOUR],
  ['is a day and an hour ahead', () => DAY + HOUR],
  ['is three minutes behind', () => -180],
  ['is an hour behind', () => -HOUR],
  ['is a day behind', () => -DAY],
  ['was ahead and is set right', (second) => (second < 600 ? HOUR : 0)],
  ['was behind and is set right', (second) => (second < 600 ? -HOUR : 0)],
  ['is set ahead', (second) => (second < 600 ? 0 : HOUR)],
  ['is set back over what it sent', (second) => (second < 600 ? 0 : -300)],
  ['was never set, and counts from 1970', () => -START / 1000 + 7],
  ['was never set, and counts from 2000', () => (Date.UTC(2000, 0, 1) - START) / 1000],
  ['loses its power and starts anew in 1970', (second) => (second < 600 ? 0 : -START / 1000 - 590)],
  ['runs five per cent too fast', (second) => second * 0.05],
  ['runs two seconds a minute too fast', (second) => second / 30],
  ['runs two seconds a minute too slow', (second) => -second / 30],
  ['is 75 seconds behind', () => -75],
  ['was 48 seconds ahead and is set right', (second) => (second < 890 ? 48 : 0)],
  ['was 80 seconds behind and is set right', (second) => (second < 890 ? -80 : 0)],
];

describe.each(CLOCKS)('a pot at 160 °C behind a gateway whose clock %s', (_, off) => {
  it('is announced as present by its second or third hot reading, and nothing before it', async () => {
    const sent = pot(off);
    await send(...sent.filter(({ arrives }) => arrives < 900));
    expect(raisedNow().filter((rule) => /fire|ceiling|heading/.test(rule))).toEqual([]);
    await send(...sent.filter(({ arrives }) => arrives >= 900 && arrives <= 920));
    expect(raisedNow()).toContain('fire-risk');
  });

  it('is kept at the time of the lab', async () => {
    await send(...pot(off));
    const hot = (await rows()).filter(({ celsius }) => celsius > 100);
    expect(hot).toHaveLength(7);
    for (const { at } of hot) expect(Math.abs(at - START - 930_000)).toBeLessThanOrEqual(90_000);
  });
});

it('a pot at 160 °C behind a clock that stands still is announced within half a minute', async () => {
  await send(...pot((second) => (second < 600 ? 0 : 600 - second)));
  expect(raisedNow()).toContain('fire-risk');
});

describe('the clock of the collector', () => {
  it.each<readonly [string, (second: number) => number]>([
    ['is set forward by ten minutes', (second) => (second < 600 ? 0 : 600)],
    ['is set forward by an hour', (second) => (second < 600 ? 0 : HOUR)],
    ['is set back by ten minutes', (second) => (second < 600 ? 0 : -600)],
    ['is set back by a day', (second) => (second < 600 ? 0 : -DAY)],
    ['was ahead and is set right', (second) => (second < 600 ? HOUR : 0)],
    ['was behind and is set right', (second) => (second < 600 ? -HOUR : 0)],
  ])('%s, and the pot that gets hot after it is announced', async (_, off) => {
    const sent = pot(() => 0, off);
    await send(...sent.slice(0, 90));
    expect(raisedNow().filter((rule) => /fire|ceiling/.test(rule))).toEqual([]);
    await send(...sent.slice(90, 93));
    expect(raisedNow()).toContain('fire-risk');
  });
});

describe('an offline that the broker kept', () => {
  const says = (second: number, online: boolean): Entry => ({
    kind: 'gateway',
    receivedAt: epochMillis(START + second * 1000),
    gateway: 'gw',
    online,
  });
  const steps = (from: number, to: number, entry: (second: number) => readonly Entry[]) =>
    Array.from({ length: (to - from) / 10 }, (_, index) => entry(from + index * 10)).flat();

  it('does not outweigh readings that stream in, at the start and after a break', async () => {
    const reading = (second: number) => entriesOf({ arrives: second, stamped: second, celsius: 60 });
    await take(says(0, false), ...steps(1, 601, (second) => [...reading(second), tick(second + 1)]));
    await take(says(603, false), ...steps(605, 1205, (second) => [...reading(second), tick(second + 1)]));
    expect(raisedNow()).toEqual([]);
    expect(gatewayOnline(pipeline.qualifyState, 'gw')).toBe(true);
  });

  it('counts when nothing but a backlog comes after it', async () => {
    await send({ arrives: 0, stamped: 0, celsius: 60 }, { arrives: 10, stamped: 10, celsius: 60 });
    await take(says(20, false));
    await send({ arrives: 21, stamped: -3600, celsius: 60 }, { arrives: 22, stamped: -3000, celsius: 60 });
    await take(...steps(30, 400, (second) => [tick(second)]));
    expect(raisedNow()).toContain('gateway-lost');
    expect(gatewayOnline(pipeline.qualifyState, 'gw')).toBe(false);
  });
});

describe('what was delivered before', () => {
  /** Of a gateway it is noted alone how often it repeated what was there. */
  const everything = async () => {
    const { repeated: _, ...clock } = gatewayRecord(pipeline.qualifyState, 'gw')?.clock ?? {};
    const gateway = { ...gatewayRecord(pipeline.qualifyState, 'gw'), clock };
    return {
      rows: await rows(),
      watch: pipeline.watchState,
      qualify: { ...pipeline.qualifyState, 'gateway/gw': gateway },
    };
  };
  /** The same messages, arriving later by so many seconds and within seconds of each other. */
  const again = (sent: readonly Sent[], from: number): readonly Sent[] =>
    sent.map((message, index) => ({ ...message, arrives: from + index / 100 }));

  it.each([0, HOUR, -HOUR])('changes nothing anywhere, stamped %d s off', async (off) => {
    const sent = pot(() => off);
    await send(...sent);
    const before = await everything();
    const [batches, changes] = [judged.length, published.length];
    for (const repeated of [sent.slice(-1), sent.slice(-3), sent, [...sent].reverse()])
      await send(...again(repeated, 970));
    expect(await everything()).toEqual(before);
    expect(
      judged
        .slice(batches)
        .flatMap(({ alarmChanges, readings, rejections }) => [
          ...alarmChanges,
          ...readings,
          ...rejections.filter(({ code }) => code !== 'clock-ahead'),
        ]),
    ).toEqual([]);
    expect(published.slice(changes)).toEqual([]);
  });

  it('raises nothing after the alarm of it was acknowledged, came to its end and was reset', async () => {
    const sent = pot(() => 0);
    await send(...sent);
    const cool = Array.from({ length: 60 }, (_, index) => ({
      arrives: 970 + index * 10,
      stamped: 970 + index * 10,
      celsius: Math.max(60, 150 - index * 8),
    }));
    await send(...cool);
    for (const type of ['acknowledge', 'reset'] as const)
      for (const { id } of waxWatch.openAlarms(pipeline.watchState))
        await take({
          kind: 'act',
          receivedAt: epochMillis(START + 1_570_000),
          act: { type, alarm: id, by: 'Ilse Brandt' },
        });
    const open = waxWatch.openAlarms(pipeline.watchState);
    expect(open.map(({ rule }) => rule)).not.toContain('fire-risk');
    const batches = judged.length;
    await send(...again([...sent, ...cool], 1580));
    await take(tick(1600));
    expect(waxWatch.openAlarms(pipeline.watchState)).toEqual(open);
    expect(judged.slice(batches).flatMap(({ alarmChanges }) => alarmChanges)).toEqual([]);
  });
});

it.each([
  ['is right', 0],
  ['is an hour ahead', HOUR],
  ['is an hour behind', -HOUR],
])(
  'another value for an instant of which one is kept, by a clock that %s, is named, and changes nothing else',
  async (_, off) => {
    const sent = pot(() => off).slice(0, 60);
    await send(...sent);
    const [before, batches] = [await rows(), judged.length];
    await send({ arrives: 592, stamped: 580 + off, celsius: 99 });
    expect(await rows()).toEqual(before);
    const rejections = judged.slice(batches).flatMap((batch) => batch.rejections);
    expect(rejections.filter(({ code }) => code !== 'clock-ahead')).toMatchObject([
      { code: 'contradicts-stored', values: { probe: 'pot-wax', celsius: 99, kept_celsius: 60.2 } },
    ]);
  },
);

it('every plain number of a burst is kept, and the hottest of it is seen', async () => {
  const apart = arrivalInstants();
  const burst = Array.from({ length: 600 }, (_, index) => (index < 590 ? 60 : 160)).flatMap(
    (celsius, index) =>
      apart(
        decodeMessage({
          topic: 'wax/lab/gw/pot-wax/celsius',
          payload: Buffer.from(String(celsius)),
          receivedAt: epochMillis(START + Math.floor(index / 40)),
          delivery: 'live',
          site: 'lab',
        }).entries,
      ),
  );
  await take(...burst);
  const stored = await rows();
  expect(stored).toHaveLength(600);
  expect(stored.filter(({ celsius }) => celsius === 160)).toHaveLength(10);
});
