// What a lab reports to its group, over a real Mosquitto that is stopped, killed and started again meanwhile.

import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { connectAsync, type MqttClient } from 'mqtt';
import { Value } from 'typebox/value';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Charge } from '../../lab/charge.ts';
import { GROUP_MESSAGES, groupTopic, groupTopicParts } from '../../lab/group/group-message.ts';
import { type Offer, offersMessage, offersTopic } from '../../lab/group/group-offer.ts';
import type { Pattern } from '../../lab/pattern.ts';
import { MILLIS_PER_DAY, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import { type GroupLinkLab, groupLinkLab } from './group-link-lab.ts';
import { type Mosquitto, startMosquitto } from './mosquitto.ts';
import { until } from './until.ts';

const START = Date.UTC(2031, 2, 3, 8);
const CUT_MINUTES = MILLIS_PER_DAY / MILLIS_PER_MINUTE;

const patternMadeAt = (madeAt: string): Pattern => ({
  id: 'p-1',
  caseReference: 'AB-1042',
  wax: 'inlay-type-2',
  technique: 'pressed',
  length_millimetres: 12,
  tolerance_micrometres: 40,
  madeAt,
  madeBy: 'Ilse Brandt',
  stays: [],
  fate: null,
});

interface Received {
  readonly kind: string;
  readonly body: Readonly<Record<string, unknown>>;
}

describe('what a lab reports to its group', () => {
  let broker: Mosquitto;
  let lab: GroupLinkLab;
  let subscriber: MqttClient | null = null;
  const received: Received[] = [];
  beforeEach(async () => {
    received.length = 0;
    broker = await startMosquitto();
    lab = await groupLinkLab('north', START);
  });
  afterEach(async () => {
    await lab.close();
    subscriber?.end(true);
    subscriber = null;
    await broker.dispose();
  });

  const subscribe = async (): Promise<void> => {
    const client = await connectAsync(broker.url, {
      clientId: 'group',
      clean: false,
      protocolVersion: 5,
      reconnectPeriod: 50,
      properties: { sessionExpiryInterval: 3600 },
    });
    client.on('message', (topic, payload) => {
      const parts = groupTopicParts(topic);
      const body = JSON.parse(payload.toString());
      if (parts === null || !Value.Check(GROUP_MESSAGES[parts.kind], body))
        throw new Error(`no message of the group: ${topic} ${payload}`);
      received.push({ kind: parts.kind, body });
    });
    await client.subscribeAsync('wax-group/#', { qos: 1 });
    subscriber = client;
  };
  const ofKind = (kind: string) =>
    received.filter((message) => message.kind === kind).map(({ body }) => body);
  const isSettled = () => {
    const status = lab.status();
    return status?.waitingMinutes === 0 && status.waitingAlarmChanges === 0 && received.length > 0;
  };
  const measureMinutes = async (minutes: number): Promise<void> => {
    for (let minute = 0; minute < minutes; minute += 1) {
      await lab.measure([lab.now(), 60], [lab.now() + 20_000, 61], [lab.now() + 40_000, 62]);
      lab.pass(MILLIS_PER_MINUTE);
    }
  };

  it('is nothing while the link is off, and of what was before it is switched on', async () => {
    await subscribe();
    lab.start();
    await measureMinutes(3);
    await lab.raiseAndAcknowledge('Ilse Brandt');
    expect(lab.table.waitingMinutes()).toBe(0);
    lab.switchOn({ url: broker.url });
    await measureMinutes(2);
    lab.pass(MILLIS_PER_MINUTE);
    await until(() => ofKind('minute').length === 2);
    expect(ofKind('minute').map(({ at }) => at)).toEqual([
      '2031-03-03T08:04:00.000Z',
      '2031-03-03T08:03:00.000Z',
    ]);
    expect(ofKind('alarm')).toEqual([]);
    lab.table.save({ ...lab.table.setting(), isOn: false });
    await measureMinutes(2);
    expect(lab.status()).toMatchObject({ state: 'off', waitingMinutes: 0 });
  });

  it('holds the figures of each whole day since it was switched on, and again when its readings arrive late', async () => {
    await subscribe();
    lab.start();
    await lab.raiseAndAcknowledge('Ilse Brandt');
    lab.switchOn({ url: broker.url });
    await until(() => ofKind('standing').length > 0);
    lab.pass(MILLIS_PER_DAY);
    await lab.raiseAndAcknowledge('Ilse Brandt');
    const evening = lab.now();
    lab.pass(MILLIS_PER_DAY);
    await until(() => ofKind('day').length === 1);
    // The day in which it was switched on had begun before.
    expect(ofKind('day')).toMatchObject([{ date: '2031-03-04', alarms: { announced: 2 } }]);
    await lab.measure([evening, 60], [START - MILLIS_PER_DAY, 60]);
    await until(() => ofKind('day').length === 2);
    expect(ofKind('day')[1]).toMatchObject({ date: '2031-03-04' });
  });

  it('comes after a day without a line: first its state, then the newest minute, then the past, each once', async () => {
    await subscribe();
    lab.start();
    lab.switchOn({ url: broker.url });
    await until(() => ofKind('standing').length > 0);
    await broker.stop();
    await until(() => lab.status()?.state === 'unreachable');
    for (let hour = 0; hour < 24; hour += 1) {
      await lab.raiseAndAcknowledge('Ilse Brandt');
      await measureMinutes(60);
    }
    // The lab process is started anew meanwhile.
    await lab.stop();
    received.length = 0;
    await broker.start();
    await until(() => subscriber?.connected);
    lab.pass(10_000);
    lab.start();
    await until(isSettled);
    await until(() => ofKind('minute').length >= CUT_MINUTES);
    // The broker may hand over again what was sent before the line broke.
    const sinceThen = received.filter(
      ({ body }) => Date.parse(String(body.sent_at)) >= START + MILLIS_PER_DAY,
    );
    expect(sinceThen[0]?.kind).toBe('standing');
    const minutes = ofKind('minute').map(({ at }) => Date.parse(String(at)));
    expect(minutes[0]).toBe(START + MILLIS_PER_DAY - MILLIS_PER_MINUTE);
    expect([...minutes].sort((a, b) => a - b)).toEqual(
      Array.from({ length: CUT_MINUTES }, (_, index) => START + index * MILLIS_PER_MINUTE),
    );
    const past = minutes.slice(2);
    expect(past).toEqual([...past].sort((a, b) => a - b));
    const alarms = ofKind('alarm');
    expect(alarms.map(({ offset }) => offset)).toEqual(alarms.map((_, index) => index + 1));
    expect(alarms).toHaveLength(48);
    expect(ofKind('minute')[0]).toMatchObject({
      probes: [
        { probe: 'pot-1-a', station: 'pot-1', count: 3, min_celsius: 60, mean_celsius: 61, max_celsius: 62 },
      ],
    });
  });

  it('is complete after the broker was restarted in the middle of the past, and what came twice is the same', async () => {
    await subscribe();
    lab.start();
    await measureMinutes(1);
    lab.switchOn({ url: broker.url });
    await until(() => ofKind('standing').length > 0);
    await broker.stop();
    await measureMinutes(200);
    lab.pass(10_000);
    await broker.start();
    await until(() => ofKind('minute').length > 20);
    await broker.stop();
    await broker.start();
    await until(isSettled);
    await until(() => new Set(ofKind('minute').map(({ at }) => at)).size === 200);
    const figures = new Map<unknown, Set<string>>();
    for (const { at, probes } of ofKind('minute'))
      figures.set(at, (figures.get(at) ?? new Set()).add(JSON.stringify(probes)));
    expect([...figures.values()].filter(({ size }) => size !== 1)).toEqual([]);
  });

  const offerTo = (site: string, ...offers: readonly Offer[]) =>
    subscriber?.publishAsync(offersTopic(site), JSON.stringify(offersMessage(site, lab.now(), offers)), {
      ...({ qos: 1, retain: true } as const),
    });
  const OFFER: Offer = {
    id: 'abcdefgh',
    note: 'From the new sheet',
    by: 'Noor Berg',
    offered_at: '2031-03-03T07:00:00Z',
    items: [{ kind: 'wax-values', wax: 'inlay-type-2', values: { ceiling: 95 } }],
  };

  it('holds the figures that the lab has set for itself, anew when they change', async () => {
    await subscribe();
    lab.start();
    lab.switchOn({ url: broker.url });
    await until(() => ofKind('figures').length === 1);
    expect(ofKind('figures')[0]).toMatchObject({
      waxes: {},
      rules: {},
      lots: [],
      stations: [{ id: 'pot-1' }],
    });
    lab.repository.saveWaxOverride('inlay-type-2', { ceiling: 95 });
    await until(() => ofKind('figures').length === 2);
    expect(ofKind('figures')[1]).toMatchObject({ waxes: { 'inlay-type-2': { ceiling: 95 } } });
  });

  it('answers an offer that came while the lab was away, when the line is back after the answer', async () => {
    await subscribe();
    await offerTo('south', { ...OFFER, id: 'forsouth' });
    await offerTo('north', OFFER);
    lab.start();
    lab.switchOn({ url: broker.url });
    await until(() => lab.offers.openCount() === 1);
    expect(lab.offers.all().map(({ offer }) => offer)).toEqual([OFFER]);
    await broker.stop();
    lab.offers.answer({ id: 'abcdefgh', answer: 'accepted', at: lab.now(), by: 'Ilse Brandt' });
    await broker.start();
    await until(() => ofKind('answer').length > 0);
    expect(ofKind('answer')[0]).toMatchObject({ offer: 'abcdefgh', answer: 'accepted', by: null });
    // Once it was answered, what is still in the broker opens nothing.
    expect(lab.offers.openCount()).toBe(0);
  });

  it('loses an open offer that the group takes back, and all of them when the link is switched off', async () => {
    await subscribe();
    await offerTo('north', OFFER, { ...OFFER, id: 'another1' });
    lab.start();
    lab.switchOn({ url: broker.url });
    await until(() => lab.offers.openCount() === 2);
    await offerTo('north', OFFER);
    await until(() => lab.offers.openCount() === 1);
    await subscriber?.publishAsync(offersTopic('north'), 'no offer', { qos: 1, retain: true });
    await until(() => lab.status()?.problem?.code === 'group-offers-not-understood');
    expect(lab.offers.openCount()).toBe(1);
    lab.table.save({ ...lab.table.setting(), isOn: false });
    expect(lab.offers.openCount()).toBe(0);
  });

  it('waits in the lab while nobody has subscribed, and reports it', async () => {
    lab.start();
    lab.switchOn({ url: broker.url });
    await measureMinutes(2);
    lab.pass(10_000);
    await until(() => lab.status()?.problem?.code === 'group-link-unreceived');
    expect(lab.status()).toMatchObject({ state: 'connected', waitingMinutes: 2 });
    await subscribe();
    await until(isSettled);
    expect(ofKind('minute')).toHaveLength(2);
    expect(lab.status()?.problem).toBeNull();
  });

  it('gives a minute again with its new figures when a reading of it arrives late', async () => {
    await subscribe();
    lab.start();
    lab.switchOn({ url: broker.url });
    const minute = lab.now();
    await measureMinutes(1);
    lab.pass(10_000);
    await until(isSettled);
    await lab.measure([minute + 50_000, 70]);
    await until(() => ofKind('minute').length === 2);
    expect(ofKind('minute')[1]).toMatchObject({
      at: new Date(minute).toISOString(),
      probes: [{ count: 4, max_celsius: 70 }],
    });
    expect(Number(ofKind('minute')[1]?.offset)).toBeGreaterThan(Number(ofKind('minute')[0]?.offset));
  });

  it('reports a charge and a pattern whose whole life lay in the time without a line', async () => {
    lab.start();
    lab.switchOn({ url: broker.url });
    await broker.stop();
    const began = new Date(lab.now()).toISOString();
    const charge: Charge = {
      id: 'c-1',
      station: 'pot-1',
      wax: 'inlay-type-2',
      grams: 120,
      startedAt: began,
      topUps: [],
      cleanedAt: null,
      endedAt: null,
    };
    lab.repository.saveCharge(charge);
    const pattern = patternMadeAt(began);
    lab.repository.savePattern(pattern);
    lab.pass(MILLIS_PER_MINUTE);
    const ended = new Date(lab.now()).toISOString();
    lab.repository.saveCharge({ ...charge, endedAt: ended });
    lab.repository.savePattern({
      ...pattern,
      fate: { kind: 'remade', at: ended, by: 'Ilse Brandt', reason: 'dropped by Ada' },
    });
    await broker.start();
    await subscribe();
    await until(() => ofKind('charge').length > 0 && ofKind('pattern').length > 0);
    expect(ofKind('charge').at(-1)).toMatchObject({ id: 'c-1', ended_at: ended });
    expect(ofKind('pattern').at(-1)).toMatchObject({ id: 'p-1', fate: { kind: 'remade', at: ended } });
    expect(JSON.stringify(received)).not.toMatch(/AB-1042|Ilse|dropped/);
  });

  it.each([
    ['neither names nor case references unless the lab gives them', {}, null, undefined],
    [
      'both where the lab gives them',
      { givesNames: true, givesCaseReferences: true },
      'Ilse Brandt',
      'AB-1042',
    ],
  ])('holds %s', async (_, gives, by, caseReference) => {
    await subscribe();
    lab.start();
    lab.switchOn({ url: broker.url, ...gives });
    const pattern = patternMadeAt(new Date(lab.now()).toISOString());
    lab.repository.savePattern(pattern);
    await lab.raiseAndAcknowledge('Ilse Brandt');
    await until(() => ofKind('alarm').length === 2 && ofKind('pattern').length > 0);
    expect(ofKind('alarm')[1]).toMatchObject({ change: 'acknowledged', by });
    expect(ofKind('pattern')[0]?.case_reference).toBe(caseReference);
  });

  it('waits in the lab, with the reason, while its user may not publish for this site', async () => {
    const guarded = await startMosquitto({
      configuration: (folder, port) => {
        writeFileSync(join(folder, 'rights'), 'user south\ntopic write wax-group/+/south/#\n');
        return [
          `listener ${port} 127.0.0.1`,
          'allow_anonymous true',
          `acl_file ${folder}/rights`,
          'user root',
          'log_dest none',
          '',
        ].join('\n');
      },
    });
    lab.start();
    lab.switchOn({ url: guarded.url, user: 'south' });
    await measureMinutes(1);
    lab.pass(10_000);
    await until(() => lab.status()?.problem?.code === 'group-link-waits');
    expect(lab.status()).toMatchObject({ waitingMinutes: 1, deliveredAt: null });
    await guarded.dispose();
  });

  it('stays below the topics of its own site, in the partition of that site', async () => {
    await subscribe();
    lab.start();
    lab.switchOn({ url: broker.url });
    await until(() => ofKind('standing').length > 0);
    expect(groupTopic('north', 'standing')).toMatch(/^wax-group\/\d+\/north\/standing$/);
    expect(ofKind('standing')[0]).toMatchObject({
      site: 'north',
      name: 'Lab north',
      stations: [{ id: 'pot-1' }],
    });
  });
});
