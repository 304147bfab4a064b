import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type ServerForTests, serverForTests } from '../../../../tests/server-for-tests.ts';

const preferences = {
  temperatureUnit: 'celsius',
  hourCycle: 'h23',
  email: null,
  namesOnLockScreen: false,
  morningHeartbeat: false,
};

describe('the language of a person', () => {
  let test: ServerForTests;
  beforeEach(async () => {
    test = await serverForTests();
  });
  afterEach(() => test.close());

  it('is saved when there are words for it', async () => {
    const manager = await test.manager();
    const answer = await manager.send('PUT', '/api/account', { ...preferences, language: 'de' });
    expect(answer.statusCode).toBeLessThan(300);
    expect(test.lab.running.lab().people[0]?.language).toBe('de');
  });

  it('is refused at its field when there are no words for it, in the account and for a new person', async () => {
    const manager = await test.manager();
    const answers = [
      await manager.send('PUT', '/api/account', { ...preferences, language: 'nl' }),
      await manager.send('POST', '/api/people', {
        name: 'Joost',
        role: 'viewer',
        preferences: { language: 'nl' },
      }),
    ];
    for (const answer of answers) {
      expect(answer.statusCode).toBe(400);
      expect(answer.json().errors).toMatchObject([
        {
          pointer: expect.stringMatching(/language$/),
          code: 'field-not-listed',
          values: { allowed: 'de, en' },
        },
      ]);
    }
    expect(test.lab.running.lab().people.map(({ language }) => language)).not.toContain('nl');
  });

  it('is refused when the first person joins in one without words', async () => {
    const body = { code: 'AAAA-AAAA', password: 'amber kettle sings at noon', name: 'Joost', language: 'nl' };
    const answer = await test.browser().send('POST', '/api/join', body);
    expect([answer.statusCode, answer.json().errors?.[0]?.code]).toEqual([400, 'field-not-listed']);
  });
});
