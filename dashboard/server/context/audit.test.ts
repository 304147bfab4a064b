import { describe, expect, it } from 'vitest';
import { serverForTests } from '../../../tests/server-for-tests.ts';

describe('the audit trail', () => {
  it('shows who changed what from what to what and why, newest first', async () => {
    const test = await serverForTests();
    const manager = await test.manager();
    const { id } = test.lab.raise('over-ceiling', 'pot-1');
    await manager.send('POST', `/api/alarms/${id}/acknowledge`, { reason: 'seen at the pot' });
    await manager.send('PUT', '/api/stations/pot-1', { name: 'Pot', kind: 'melt-pot', reason: 'renamed' });
    const rows = (await manager.send('GET', '/api/audit')).json();
    expect(rows[0]).toMatchObject({
      actor: 'Mara',
      role: 'manager',
      action: 'station-saved',
      entityId: 'pot-1',
      before: { name: 'Melt pot 1' },
      after: { name: 'Pot' },
      reason: 'renamed',
    });
    expect(rows[1]).toMatchObject({
      action: 'acknowledge',
      entity: 'alarm',
      before: { acknowledged: false },
      after: { acknowledged: true },
      reason: 'seen at the pot',
    });
    const ofAlarms = (await manager.send('GET', '/api/audit?entity=alarm&limit=5')).json();
    expect(ofAlarms).toHaveLength(1);
    await test.close();
  });

  it('lets no row be changed or removed, and shows where somebody did it behind its back', async () => {
    const test = await serverForTests();
    const manager = await test.manager();
    for (const name of ['A', 'B', 'C']) await manager.send('POST', '/api/wall-links', { name });
    const { writer } = test.lab.database;
    expect(() => writer.prepare("UPDATE audit SET actor = 'Eve'").run()).toThrow('append-only');
    expect(() => writer.prepare('DELETE FROM audit').run()).toThrow('append-only');
    const sound = (await manager.send('GET', '/api/audit/verify')).json();
    expect(sound).toMatchObject({ ok: true, rows: 5 });
    expect(sound.head).toMatch(/^[0-9a-f]{64}$/);
    writer.exec('DROP TRIGGER audit_keeps_rows');
    writer.prepare("UPDATE audit SET actor = 'Eve' WHERE sequence = 3").run();
    expect((await manager.send('GET', '/api/audit/verify')).json()).toEqual({
      ok: false,
      rows: 3,
      brokenAt: 3,
    });
    await test.close();
  });

  it('shows a row that was cut out of the middle', async () => {
    const test = await serverForTests();
    const manager = await test.manager();
    for (const name of ['A', 'B', 'C']) await manager.send('POST', '/api/wall-links', { name });
    test.lab.database.writer.exec('DROP TRIGGER audit_keeps_all; DELETE FROM audit WHERE sequence = 4');
    expect((await manager.send('GET', '/api/audit/verify')).json()).toMatchObject({ ok: false, brokenAt: 4 });
    await test.close();
  });

  it('is read by managers alone', async () => {
    const test = await serverForTests();
    const technician = await test.person(await test.manager(), 'technician', 'Tom');
    expect((await technician.send('GET', '/api/audit')).statusCode).toBe(403);
    await test.close();
  });
});
