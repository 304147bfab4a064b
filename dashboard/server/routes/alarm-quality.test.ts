import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type ServerForTests, serverForTests } from '../../../tests/server-for-tests.ts';
import type { AlarmQualityView } from '../../api/alarm-quality.ts';

describe('the quality of the alarms', () => {
  let test: ServerForTests;
  beforeEach(async () => {
    test = await serverForTests();
  });
  afterEach(() => test.close());

  it('is counted over the last day from the history, each figure beside its target and its source', async () => {
    const alarm = test.lab.raise('over-ceiling', 'pot-1');
    test.lab.pass(90);
    const browser = await test.manager();
    await browser.send('POST', `/api/alarms/${alarm.id}/acknowledge`, {});
    test.lab.pass(10);
    const view = (await browser.send('GET', '/api/alarm-quality')).json<AlarmQualityView>();
    expect(view).toMatchObject({ days: 1, isBasis: false, isWhole: true, announced: 1 });
    const median = view.figures.find(({ name }) => name === 'acknowledged-median');
    expect(median).toMatchObject({ value: 90, atMost: null, holds: null, unit: 'seconds' });
    const perDay = view.figures.find(({ name }) => name === 'per-day');
    expect(perDay).toMatchObject({ value: 1, atMost: 150, holds: true, standing: 'from memory' });
    expect(view.contributors).toMatchObject([{ subjectName: 'Melt pot 1', count: 1, share: 1 }]);
  });

  it('calls a pattern by its case and what has no name by its id', async () => {
    test.lab.running.repository.savePattern({
      id: 'K7QRD',
      caseReference: 'AB-1051 bridge',
      wax: 'inlay-type-2',
      technique: 'layered',
      length_millimetres: 12,
      tolerance_micrometres: 60,
      madeAt: '2031-03-03T07:00:00Z',
      madeBy: 'Mara',
      stays: [],
      fate: null,
    });
    test.lab.raise('pattern-due', 'K7QRD');
    test.lab.raise('gateway-lost', 'gw-1');
    test.lab.pass(10);
    const browser = await test.manager();
    const { contributors } = (await browser.send('GET', '/api/alarm-quality')).json<AlarmQualityView>();
    expect(contributors.map(({ subjectName }) => subjectName).sort()).toEqual(['AB-1051 bridge', 'gw-1']);
  });

  it('marks thirty days as a basis, and refuses a span that ends before it begins', async () => {
    const browser = await test.manager();
    const from = '2031-02-01T00:00:00Z';
    const month = await browser.send('GET', `/api/alarm-quality?from=${from}&to=2031-03-03T00:00:00Z`);
    expect(month.json()).toMatchObject({ isBasis: true, announced: 0 });
    const wrong = await browser.send('GET', `/api/alarm-quality?from=${from}&to=2031-01-01T00:00:00Z`);
    expect(wrong.json()).toMatchObject({ status: 400, code: 'wrong-request' });
  });

  it('begins no earlier than the first reading: days that nobody watched better nothing', async () => {
    await test.lab.measure('pot-1-a', 70);
    test.lab.pass(2 * 86_400);
    const browser = await test.manager();
    const month = await browser.send('GET', '/api/alarm-quality?from=2031-02-01T00:00:00Z');
    expect(month.json()).toMatchObject({ days: 2, isBasis: false, from: '2031-03-03T08:00:00.000Z' });
  });

  it('is not shown to who did not sign in', async () => {
    const closed = await serverForTests({ demo: false });
    const { statusCode } = await closed.browser().send('GET', '/api/alarm-quality');
    await closed.close();
    expect(statusCode).toBe(401);
  });
});
