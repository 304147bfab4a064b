import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  type Browser,
  PASSWORDS,
  type ServerForTests,
  serverForTests,
} from '../../../../tests/server-for-tests.ts';

describe('what other figures of a rule would have raised', () => {
  let test: ServerForTests;
  let manager: Browser;
  beforeEach(async () => {
    test = await serverForTests();
    manager = await test.manager();
    // Three humps over the ceiling of its wax: of four minutes, of one, of four.
    for (const readings of [12, 3, 12]) {
      for (let reading = 0; reading < readings; reading += 1) {
        await test.lab.measure('pot-1-a', 120);
        test.lab.pass(20);
      }
      for (let minute = 0; minute < 20; minute += 1) {
        await test.lab.measure('pot-1-a', 70);
        test.lab.pass(60);
      }
    }
    await manager.send('POST', '/api/session/confirm', { password: PASSWORDS.manager });
  });
  afterEach(() => test.close());

  it('is answered before anything is saved: two instead of three', async () => {
    const before = test.lab.running.lab();
    const body = { rule: 'over-ceiling', values: { on_delay_seconds: 60 } };
    const answer = await manager.send('POST', '/api/stations/pot-1/trial', body);
    expect(answer.json()).toMatchObject({
      days: 30,
      readings: 87,
      before: 3,
      after: 2,
      fewer: 1,
      more: 0,
      recorded: 0,
    });
    expect(answer.json().beginnings).toHaveLength(2);
    expect(test.lab.running.lab()).toEqual(before);
  });

  it('covers all stations of the kind at once where that is requested', async () => {
    const pot = test.lab.running.lab().stations.find(({ id }) => id === 'pot-1');
    if (pot !== undefined) test.lab.running.repository.saveStation({ ...pot, id: 'pot-2', name: 'Pot 2' });
    const body = { rule: 'over-ceiling', values: { on_delay_seconds: 60 }, every_station_of_kind: true };
    const answer = await manager.send('POST', '/api/stations/pot-2/trial', body);
    expect(answer.json()).toMatchObject({
      before: 3,
      after: 2,
      stations: [
        { station: 'pot-1', recorded: 0, before: 3, after: 2 },
        { station: 'pot-2', recorded: 0, before: 0, after: 0 },
      ],
    });
  });

  it.each([
    [{ rule: 'over-celing', values: {} }],
    [{ rule: 'over-ceiling', values: { on_delay_seconds: -1 } }],
    [{ rule: 'over-ceiling', values: { colour: 1 } }],
    [{ rule: 'over-ceiling' }],
  ])('refuses %o and names the field', async (body) => {
    const answer = await manager.send('POST', '/api/stations/pot-1/trial', body);
    expect(answer.json()).toMatchObject({ status: 400, code: 'wrong-request' });
    expect(answer.json().errors[0].pointer).toMatch(/^\/body/);
  });

  it('keeps figures with who set them and why', async () => {
    const { id: _, ...station } = test.lab.running.lab().stations[0] ?? { id: '' };
    const rules = { 'over-ceiling': { on_delay_seconds: 60 } };
    await manager.send('PUT', '/api/stations/pot-1', {
      ...station,
      rules,
      reason: 'short peaks while stirring',
    });
    const [row] = (await manager.send('GET', '/api/audit?entity=station')).json();
    expect(row).toMatchObject({ reason: 'short peaks while stirring', after: { rules } });
  });
});
