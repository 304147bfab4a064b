import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { alarmText } from '../../../alerts/notices/texts/alarm-text.ts';
import { type ServerForTests, serverForTests } from '../../../tests/server-for-tests.ts';

describe('the words of alarms', () => {
  let test: ServerForTests;
  beforeEach(async () => {
    test = await serverForTests({ alarmWords: alarmText });
  });
  afterEach(() => test.close());

  const raiseAbove = () => {
    const { id } = test.lab.raise('over-ceiling', 'pot-1');
    test.lab.step(id, {
      type: 'updates',
      at: test.lab.running.now(),
      evidence: { value_celsius: 131.5, ceiling_celsius: 90, over_minutes: 1 },
    });
    return id;
  };

  it('come in the unit that the address names, of one alarm, of all and of one that was acted on', async () => {
    const manager = await test.manager();
    const id = raiseAbove();
    const asked = `lang=en&unit=fahrenheit&hours=h12`;
    const [all, single, acted] = [
      (await manager.send('GET', `/api/alarms?${asked}`)).json()[0].message,
      (await manager.send('GET', `/api/alarms/${id}?${asked}`)).json().message,
      (await manager.send('POST', `/api/alarms/${id}/acknowledge?${asked}`, {})).json().message,
    ];
    expect(all).toContain('268.7 °F');
    expect([single, acted]).toEqual([all, all]);
    expect((await manager.send('GET', '/api/alarms?lang=en')).json()[0].message).toContain('131.5 °C');
  });

  it('come as the signed-in person has set, unless the address names something else', async () => {
    const manager = await test.manager();
    raiseAbove();
    const person = test.lab.running.lab().people[0];
    if (person === undefined) throw new Error('nobody is there');
    test.lab.running.repository.savePerson({ ...person, language: 'de', temperatureUnit: 'fahrenheit' });
    expect((await manager.send('GET', '/api/alarms')).json()[0].message).toContain('268,7 °F');
    const asked = (await manager.send('GET', '/api/alarms?lang=en&unit=celsius')).json()[0].message;
    expect(asked).toContain('131.5 °C');
  });

  it('are refused in a unit that is none', async () => {
    const manager = await test.manager();
    const answer = await manager.send('GET', '/api/alarms?unit=kelvin');
    expect(answer.statusCode).toBe(400);
    expect(answer.body).toContain('unit');
  });
});
