// Pushes as they leave the product, taken by a push service that checks the sender and decrypts what it gets.

import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { fitPayload, LONGEST_PAYLOAD_BYTES } from '../../alerts/notices/channels/push.ts';
import { noticeKeys } from '../../alerts/notices/channels/notice-keys.ts';
import { type PushService, startPushService } from '../push-service.ts';
import { type Browser, type ServerForTests, serverForTests } from '../server-for-tests.ts';

let service: PushService;
let test: ServerForTests;
let manager: Browser;
beforeEach(async () => {
  service = await startPushService();
  test = await serverForTests({ pushHosts: [service.host], pushAgent: service.agent });
  manager = await test.manager();
});
afterEach(async () => {
  await test.close();
  await service.close();
});
const subscribe = async () => {
  const phone = service.subscribe();
  await manager.send('POST', '/api/push/subscriptions', phone);
  return phone;
};
const raise = () => test.lab.raise('over-ceiling', 'pot-1');
const runDue = () => test.lab.running.notices.runDue();
const states = () => test.lab.running.notices.outbox.newest(50).map(({ kind, state }) => `${kind} ${state}`);

describe('a push', () => {
  it('is signed, short-lived, urgent, of one topic an alarm, small enough, and holds what to do', async () => {
    await subscribe();
    const alarm = raise();
    await runDue();
    const [push] = service.received;
    expect(push?.vapid).toMatchObject({ aud: service.origin, key: test.lab.running.notices.pushKey });
    const hours = ((push?.vapid.exp ?? 0) * 1000 - Date.now()) / 3_600_000;
    expect(hours).toBeGreaterThan(0);
    expect(hours).toBeLessThanOrEqual(24);
    expect(Number(push?.headers.ttl)).toBeGreaterThanOrEqual(300);
    expect(Number(push?.headers.ttl)).toBeLessThanOrEqual(900);
    expect(push?.headers.urgency).toBe('high');
    expect(push?.headers.topic).toMatch(/^[\w-]{32}$/);
    expect(push?.headers['content-encoding']).toBe('aes128gcm');
    expect(push?.bytes).toBeLessThanOrEqual(4096);
    expect(push?.payload).toMatchObject({ kind: 'raised', tag: alarm.id, stays: true, url: '/phone' });
    expect(push?.payload.body).toContain('Turn the heater down or off at its own switch');
    expect(push?.payload.acknowledge?.token).toMatch(/^[\w-]+\.[\w-]+$/);
  });

  it('that it is over has the topic of the one that raised it, and no button', async () => {
    await subscribe();
    const { id } = raise();
    await runDue();
    test.lab.pass(60);
    test.lab.step(id, { type: 'ends', at: test.lab.running.now() });
    await runDue();
    const [raised, over] = service.received;
    expect(over?.payload).toMatchObject({ kind: 'cleared', tag: id, stays: false });
    expect(over?.payload).not.toHaveProperty('acknowledge');
    expect(over?.headers.topic).toBe(raised?.headers.topic);
  });

  it.each([404, 410])('answered with %i removes exactly that phone', async (status) => {
    const gone = await subscribe();
    raise();
    service.answerNext(status);
    await runDue();
    const subscription = await subscribe();
    const endpoints = test.lab.running.notices.subscriptions.all().map(({ endpoint }) => endpoint);
    expect(endpoints).toEqual([subscription.endpoint]);
    expect(endpoints).not.toContain(gone.endpoint);
    expect(states()).toEqual(['raised failed']);
  });

  it.each([
    [429, { 'retry-after': '120' }],
    [503, { 'retry-after': 'Mon, 03 Mar 2031 08:02:00 GMT' }],
  ])(
    'answered with %i is sent again when the service asked for it and not before',
    async (status, headers) => {
      await subscribe();
      raise();
      service.answerNext(status, headers);
      await runDue();
      test.lab.pass(119);
      await runDue();
      expect(service.received).toHaveLength(0);
      test.lab.pass(1);
      await runDue();
      expect(service.received).toHaveLength(1);
      expect(service.tries()).toBe(2);
    },
  );

  it('that is too long for the service is sent again at once, shorter', async () => {
    await subscribe();
    raise();
    service.answerNext(413);
    await runDue();
    expect(service.received).toHaveLength(1);
    expect(service.received[0]?.bytes).toBeLessThanOrEqual(1024 + 103);
  });

  it.each([400, 401, 403])('refused with %i keeps the phone and is not tried for ever', async (status) => {
    await subscribe();
    raise();
    service.answerNext(status);
    await runDue();
    expect(test.lab.running.notices.subscriptions.all()).toHaveLength(1);
    expect(states()).toEqual(['raised failed']);
  });

  it('never grows over what a service must take, whatever the text', () => {
    const payload = {
      kind: 'raised',
      title: 'Now',
      body: 'ü€😀"\\'.repeat(3000),
      tag: 'a',
      url: '/',
      stays: true,
    } as const;
    const text = fitPayload(payload);
    expect(Buffer.byteLength(text)).toBeLessThanOrEqual(LONGEST_PAYLOAD_BYTES);
    expect(Buffer.byteLength(text)).toBeGreaterThan(LONGEST_PAYLOAD_BYTES * 0.9);
    expect(JSON.parse(text)).toMatchObject({ title: 'Now', tag: 'a' });
  });
});

describe('the keys of the lab process', () => {
  it('are made once, readable by their owner alone, and the same after a restart', () => {
    const folder = mkdtempSync(join(tmpdir(), 'waxwarden-keys-'));
    const file = join(folder, 'notice-keys.json');
    const made = noticeKeys(file);
    expect(statSync(file).mode & 0o777).toBe(0o600);
    expect(noticeKeys(file)).toEqual(made);
    rmSync(folder, { recursive: true });
  });
});
