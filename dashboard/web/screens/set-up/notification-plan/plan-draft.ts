// A plan that is being changed: which parts differ from the saved one, and what of it goes to the server. Pure.

import type { NotificationPlanBody } from '../../../../api/notification-plan.ts';
import { stationId } from '../../../forms/station-id.ts';

export const PLAN_PARTS = [
  'rota',
  'absences',
  'escalation',
  'outsideHours',
  'heartbeatAt',
  'webhooks',
  'lampTopics',
] as const satisfies readonly (keyof NotificationPlanBody)[];
export type PlanPart = (typeof PLAN_PARTS)[number];

/** What the form holds for a number that is not filled in: the server refuses it at its field. */
export const NOT_FILLED_IN = -1;

/** As it is sent: no blanks around, no empty template, a name of its own for each new webhook. */
export const planBody = (draft: NotificationPlanBody): NotificationPlanBody => {
  const taken = draft.webhooks.map(({ id }) => id).filter((id) => id !== '');
  return {
    ...draft,
    webhooks: draft.webhooks.map((webhook) => {
      const id = webhook.id === '' ? stationId(webhook.name, taken) : webhook.id;
      taken.push(id);
      const template = webhook.template?.trim() ?? '';
      return {
        id,
        name: webhook.name.trim(),
        url: webhook.url.trim(),
        template: template === '' ? null : template,
      };
    }),
    lampTopics: draft.lampTopics.map((topic) => topic.trim()),
  };
};

export const findChangedParts = (
  saved: NotificationPlanBody,
  draft: NotificationPlanBody,
): readonly PlanPart[] => {
  const sent = planBody(draft);
  return PLAN_PARTS.filter((part) => JSON.stringify(sent[part]) !== JSON.stringify(saved[part]));
};
