import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openCopyRecord } from '../../../../lab/database/copy-record.ts';
import {
  type Browser,
  PASSWORDS,
  type ServerForTests,
  serverForTests,
} from '../../../../tests/server-for-tests.ts';
import { celsius, epochMillis, MILLIS_PER_DAY } from '../../../../wax/units.ts';

describe('how long readings stay', () => {
  let test: ServerForTests;
  let manager: Browser;
  beforeEach(async () => {
    test = await serverForTests();
    manager = await test.manager();
    const { running } = test.lab;
    const readings = Array.from({ length: 100 }, (_, day) => ({
      probe: 'pot-1-a',
      at: epochMillis(running.now() - (day + 2) * MILLIS_PER_DAY),
      celsius: celsius(62),
      quality: 'good' as const,
    }));
    await running.store.apply({ readings, ruleState: {}, alongside: [], offset: running.store.offset() + 1 });
    await running.store.tidy(running.now(), () => 'melt-pot');
    await manager.send('POST', '/api/session/confirm', { password: PASSWORDS.manager });
  });
  afterEach(() => test.close());
  const kinds = (readingsDays: number | null, hoursDays: number | null) => ({
    kinds: [{ kind: 'melt-pot', readingsDays, hoursDays }],
  });

  it('is for ever until it is set, and the preview shows what would go and changes nothing', async () => {
    const preview = await manager.send('POST', '/api/stored-readings/preview', kinds(60, null));
    expect(preview.json()).toMatchObject([{ kind: 'melt-pot', probe: 'pot-1-a', readings: 41 }]);
    const { retention } = (await manager.send('GET', '/api/stored-readings')).json();
    expect(retention).toMatchObject({ beginsAt: null, expiring: [] });
    expect(new Set(retention.kinds.map((row: { readingsDays: number | null }) => row.readingsDays))).toEqual(
      new Set([null]),
    );
  });

  it('takes effect a day after it was set, and is in the audit trail', async () => {
    const answer = await manager.send('PUT', '/api/stored-readings/retention', kinds(60, null));
    expect(answer.json().retention).toMatchObject({
      beginsAt: new Date(test.lab.running.now() + MILLIS_PER_DAY).toISOString(),
      expiring: [{ probe: 'pot-1-a', readings: 41 }],
    });
    const trail = (await manager.send('GET', '/api/audit')).body;
    expect(trail).toContain('retention-changed');
  });

  it.each([
    ['fewer days than a month sheet needs', kinds(5, null), '/body/kinds/0/readingsDays'],
    ['hourly figures that go before their readings', kinds(90, 60), '/body/kinds/0/hoursDays'],
    ['hourly figures that go while readings stay for ever', kinds(null, 60), '/body/kinds/0/hoursDays'],
  ])('is refused with %s, at the field', async (_, body, pointer) => {
    const answer = await manager.send('PUT', '/api/stored-readings/retention', body);
    expect(answer.statusCode).toBe(400);
    expect(answer.json().errors[0].pointer).toBe(pointer);
  });

  it('is a manager’s alone to see and to set', async () => {
    const viewer = await test.person(manager, 'viewer', 'vera');
    expect((await viewer.send('GET', '/api/stored-readings')).statusCode).toBe(403);
    expect((await viewer.send('PUT', '/api/stored-readings/retention', kinds(60, null))).statusCode).toBe(
      403,
    );
  });

  it('is shown beside the copies of the data, and nothing refused is sent where nothing was refused', async () => {
    const { database, running } = test.lab;
    openCopyRecord(database).add({ at: running.now(), file: '/copies/a.db', bytes: 2_500_000, fault: null });
    const view = (await manager.send('GET', '/api/stored-readings')).json();
    expect(view.copies).toMatchObject([{ file: '/copies/a.db', megabytes: 2.5, fault: null }]);
    expect((await manager.send('POST', '/api/stored-readings/send-again')).json()).toEqual({ count: 0 });
  });
});
