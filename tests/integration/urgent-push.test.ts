// Urgent alarms as a phone gets them: taken by a push service that decrypts, over the real outbox and its texts.

import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type PushService, startPushService } from '../push-service.ts';
import { type Browser, type ServerForTests, serverForTests } from '../server-for-tests.ts';

const POTS = Array.from({ length: 14 }, (_, index) => `pot-${index + 1}`);

let service: PushService;
let test: ServerForTests;
let manager: Browser;
beforeEach(async () => {
  service = await startPushService();
  test = await serverForTests({ pushHosts: [service.host], pushAgent: service.agent });
  manager = await test.manager();
  await manager.send('POST', '/api/push/subscriptions', service.subscribe());
  for (const id of POTS)
    test.lab.running.repository.saveStation({
      id,
      name: `Melt ${id}`,
      kind: 'melt-pot',
      wax: 'inlay-type-2',
    });
});
afterEach(async () => {
  await test.close();
  await service.close();
});
const runDue = () => test.lab.running.notices.runDue();
const pass = async (seconds: number) => {
  test.lab.pass(seconds);
  test.lab.tick();
  await runDue();
};
const fire = (pot: string) => test.lab.raise('fire-risk', pot, 'urgent');
/** In one transaction, as what one batch of readings brings about. */
const atOnce = <T>(work: () => T): T => test.lab.database.transaction(work);
const open = () => test.lab.running.openAlarms().filter(({ acknowledged }) => !acknowledged);
const tap = (push: (typeof service.received)[number] | undefined) =>
  test.browser().send('POST', '/api/acknowledge-by-link', { token: push?.payload.acknowledge?.token });

describe('a fire risk', () => {
  it('thirty seconds after fourteen pots over their ceilings is pushed at once, by itself', async () => {
    atOnce(() => POTS.map((pot) => test.lab.raise('over-ceiling', pot)));
    await pass(6);
    expect(service.received).toHaveLength(1);
    const [group] = service.received;
    expect(group?.payload.title).toBe('14 alarms: Melt pot-1, Melt pot-2, Melt pot-3 +11');
    for (const pot of POTS) expect(group?.payload.body).toContain(`Melt ${pot}`);
    await pass(24);
    test.lab.raise('left-on', 'pot-1');
    fire('pot-9');
    await runDue();
    expect(service.received).toHaveLength(2);
    const push = service.received[1];
    expect(push?.payload.title).toBe('Urgent: Melt pot-9');
    expect(push?.payload.body).toMatch(/^What to do: .+\n.*cut-out[\s\S]*\nMelt pot-9/);
    expect(push?.payload).toMatchObject({ stays: true, acknowledge: { label: 'Acknowledge' } });
    expect(push?.headers.urgency).toBe('high');
  });

  it('waits for no push that the service is slow or unwilling to take', async () => {
    test.lab.raise('over-ceiling', 'pot-1');
    service.answerNext(503, { 'retry-after': '600' });
    await runDue();
    fire('pot-2');
    await runDue();
    expect(service.received.map(({ payload }) => payload.title)).toEqual(['Urgent: Melt pot-2']);
  });

  it('at several stations in the same instant is one push that names each, with one button for all', async () => {
    atOnce(() => POTS.slice(0, 6).map(fire));
    await runDue();
    expect(service.received).toHaveLength(1);
    const [push] = service.received;
    expect(push?.payload.title).toBe('Urgent: Melt pot-1, Melt pot-2, Melt pot-3 +3');
    for (const pot of POTS.slice(0, 6)) expect(push?.payload.body).toContain(`Melt ${pot}`);
    expect(push?.payload.body.match(/What to do:/g)).toHaveLength(1);
    expect(push?.payload.acknowledge?.label).toBe('Acknowledge all 6');
    expect((await tap(push)).statusCode).toBe(200);
    expect(open()).toEqual([]);
    expect((await tap(push)).json()).toMatchObject({ code: 'link-used' });
  });

  it('rings again every five minutes until somebody answers, in the place of the push before', async () => {
    atOnce(() => ['pot-1', 'pot-2'].map(fire));
    await runDue();
    await pass(299);
    expect(service.received).toHaveLength(1);
    await pass(1);
    expect(service.received).toHaveLength(2);
    const [first, second] = service.received;
    expect(second?.payload.title).toBe('Not acknowledged yet: Melt pot-1, Melt pot-2');
    expect(second?.payload.tag).toBe(first?.payload.tag);
    await tap(second);
    await runDue();
    const answered = service.received.length;
    await pass(300);
    await pass(300);
    expect(service.received).toHaveLength(answered);
  });

  it('that is over leaves the others of its push standing, with a button for them', async () => {
    const [first] = atOnce(() => ['pot-1', 'pot-2', 'pot-3'].map(fire));
    await runDue();
    test.lab.pass(60);
    test.lab.step(first?.id ?? '', { type: 'ends', at: test.lab.running.now() });
    await runDue();
    const [together, over] = service.received;
    expect(over?.payload).toMatchObject({ kind: 'cleared', tag: together?.payload.tag, stays: true });
    expect(over?.payload.title).toBe('Over: Melt pot-1');
    expect(over?.payload.body).toContain('Still not acknowledged: Melt pot-2, Melt pot-3');
    expect(over?.payload.acknowledge?.label).toBe('Acknowledge both');
    await tap(over);
    expect(open().map(({ subject }) => subject)).toEqual(['pot-1']);
  });

  it('that joins others replaces the push in which it came alone', async () => {
    fire('pot-1');
    await runDue();
    await pass(150);
    fire('pot-2');
    await runDue();
    await pass(150);
    await pass(300);
    const last = service.received.at(-1);
    const alone = service.received[0]?.payload.tag;
    expect(last?.payload.tag === alone || last?.payload.replaces?.includes(alone ?? '')).toBe(true);
  });
});

describe('alarms that are hidden behind their cause', () => {
  const behind = { type: 'suppress', reason: 'behind:over-ceiling' } as const;
  const at = () => test.lab.running.now();
  const raiseHidden = (pot: string) => {
    const { id } = test.lab.raise('probe-jump', pot);
    test.lab.raise('over-ceiling', pot);
    test.lab.step(id, { ...behind, at: at() });
    return id;
  };

  it('before anybody was notified of them make no push beside that of the cause', async () => {
    atOnce(() => POTS.map(raiseHidden));
    await runDue();
    await pass(6);
    expect(service.received.map(({ payload }) => payload.title)).toEqual([
      '14 alarms: Melt pot-1, Melt pot-2, Melt pot-3 +11',
    ]);
    expect(service.received[0]?.payload.body).not.toContain('Suppressed');
  });

  it('and come to light again within the same batch are pushed', async () => {
    atOnce(() => {
      const id = raiseHidden('pot-1');
      test.lab.step(id, { type: 'unsuppress', at: at() });
    });
    await runDue();
    expect(service.received.map(({ payload }) => payload.kind)).toEqual(['raised', 'raised']);
    expect(service.received.map(({ payload }) => payload.body).join()).toContain('jumped');
  });
});

describe('an alarm that was not delivered before it was over', () => {
  it('is pushed once, as over, with when it was', async () => {
    const { id } = test.lab.raise('over-ceiling', 'pot-1');
    service.answerNext(503);
    await runDue();
    test.lab.pass(120);
    test.lab.step(id, { type: 'ends', at: test.lab.running.now() });
    await runDue();
    expect(service.received).toHaveLength(1);
    expect(service.received[0]?.payload.title).toBe('Over: Melt pot-1');
    expect(service.received[0]?.payload.body).toMatch(/^From .*09:00 to .*09:02: “Melt pot-1/);
  });
});
