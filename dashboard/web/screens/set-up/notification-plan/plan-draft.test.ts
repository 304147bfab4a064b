import { describe, expect, it } from 'vitest';
import type { NotificationPlanBody } from '../../../../api/notification-plan.ts';
import { findChangedParts, PLAN_PARTS, planBody } from './plan-draft.ts';

const WEBHOOK = { id: 'chat', name: 'Chat', url: 'https://chat.lab.example/in', template: null };
const SAVED: NotificationPlanBody = {
  rota: { people: ['tom', 'ida'], startsOn: '2031-03-03', handoverTime: '08:00' },
  absences: [],
  escalation: [{ afterMinutes: 0, who: 'on-duty' }],
  outsideHours: ['urgent', 'high'],
  heartbeatAt: '07:30',
  webhooks: [WEBHOOK],
  lampTopics: ['lab/lamp'],
};

describe('a plan that is being changed', () => {
  it('names exactly the parts that differ', () => {
    expect(findChangedParts(SAVED, structuredClone(SAVED))).toEqual([]);
    expect(findChangedParts(SAVED, { ...SAVED, rota: null, heartbeatAt: null })).toEqual([
      'rota',
      'heartbeatAt',
    ]);
    expect(
      findChangedParts(SAVED, {
        ...SAVED,
        rota: { people: ['ida', 'tom'], startsOn: '2031-03-03', handoverTime: '08:00' },
      }),
    ).toEqual(['rota']);
  });

  it('has every part of the plan', () => {
    expect([...PLAN_PARTS].sort()).toEqual(Object.keys(SAVED).sort());
  });

  it('takes blanks and an emptied template for no change', () => {
    const draft = { ...SAVED, webhooks: [{ ...WEBHOOK, name: ' Chat ', template: '  ' }] };
    expect(findChangedParts(SAVED, draft)).toEqual([]);
  });

  it('sends what it did not touch as it was', () => {
    const template = '{"text":"{message}"}';
    const saved = { ...SAVED, webhooks: [{ ...WEBHOOK, template }] };
    expect(planBody(saved)).toEqual(saved);
  });

  it('names new webhooks after their names, each once, and never renames an old one', () => {
    const fresh = { id: '', name: 'Chat', url: 'https://other.example', template: null };
    const { webhooks } = planBody({
      ...SAVED,
      webhooks: [fresh, { ...WEBHOOK, name: 'Renamed' }, fresh, { ...fresh, name: 'Tür ß' }],
    });
    expect(webhooks.map(({ id }) => id)).toEqual(['chat-2', 'chat', 'chat-3', 'tur-ss']);
  });
});
