import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { epochMillis } from '../../../../wax/units.ts';
import type { Browser, ServerForTests } from '../../../../tests/server-for-tests.ts';
import { serverForTests } from '../../../../tests/server-for-tests.ts';

const MAPPING = {
  isOn: true,
  topic: 'pots/+/values',
  gateway: 'loggers',
  probe: '{1}',
  value: '/t',
  unit: 'Cel',
};
const AT = epochMillis(Date.UTC(2031, 1, 3, 8));

describe('mappings of JSON payloads over the wire', () => {
  let test: ServerForTests;
  let manager: Browser;
  beforeEach(async () => {
    test = await serverForTests();
    manager = await test.manager();
  });
  afterEach(() => test.close());
  const arrived = (topic: string, payload: string, bytes = payload.length): void =>
    test.lab.quarantine({
      topic,
      code: 'unknown-topic',
      count: 1,
      firstAt: AT,
      lastAt: AT,
      sample: new TextEncoder().encode(payload),
      bytes,
    });

  it('are kept, changed and removed, and the audit trail names who did it', async () => {
    expect((await manager.send('PUT', '/api/payload-mappings/loggers', MAPPING)).statusCode).toBe(200);
    await manager.send('PUT', '/api/payload-mappings/loggers', { ...MAPPING, isOn: false });
    expect((await manager.send('GET', '/api/payload-mappings')).json()).toEqual([
      { id: 'loggers', ...MAPPING, isOn: false },
    ]);
    expect((await manager.send('DELETE', '/api/payload-mappings/loggers')).statusCode).toBe(200);
    expect((await manager.send('GET', '/api/payload-mappings')).json()).toEqual([]);
    expect((await manager.send('DELETE', '/api/payload-mappings/loggers')).json()).toMatchObject({
      code: 'unknown-mapping',
    });
  });

  it.each([
    ['a topic of our own', { topic: 'wax/lab-1/x' }, 'mapping-topic'],
    ['a wildcard that the topic does not have', { probe: '{2}' }, 'mapping-probe'],
    ['a pointer that is none', { value: 't' }, 'wrong-request'],
    ['a field that is not known', { values: '/t' }, 'wrong-request'],
  ])('are refused with %s', async (_, more, code) => {
    const refused = await manager.send('PUT', '/api/payload-mappings/loggers', { ...MAPPING, ...more });
    expect(refused.statusCode).toBeGreaterThanOrEqual(400);
    expect(refused.json()).toMatchObject({ code });
  });

  it('are tried over the newest messages of their topic, and store nothing', async () => {
    arrived('pots/pot-1/values', '{"t":61.5}');
    arrived('pots/pot-2/values', '{"temp":61.5}');
    arrived('pots/pot-3/values', '{"t":61.5', 5000);
    arrived('pots/pot-4/state', '{"t":61.5}');
    const tried = (await manager.send('POST', '/api/payload-mapping-trials', MAPPING)).json();
    expect(tried).toMatchObject([
      { topic: 'pots/pot-3/values', isCut: true, readings: [] },
      { topic: 'pots/pot-2/values', readings: [], problems: [expect.stringContaining('/t')] },
      { topic: 'pots/pot-1/values', readings: [{ probe: 'pot-1', unit: 'Cel', value: 61.5 }], problems: [] },
    ]);
    expect((await manager.send('GET', '/api/payload-mappings')).json()).toEqual([]);
  });
});
