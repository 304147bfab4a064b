// What a schema cannot check of a notification plan: days that exist, people of this lab, steps in order, names
// that appear once.

import type { ProblemCode, ProblemValues } from '../../wax/result.ts';
import type { NotificationPlan } from '../notification-plan.ts';
import type { Contradiction } from './lab-file-problem.ts';

const isDay = (text: string): boolean => {
  const date = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text);
};

/** A name in braces becomes text inside quotes or `true` and the like outside: a digit may be in both places. */
const becomesJson = (template: string): boolean => {
  try {
    JSON.parse(template.replace(/\{\w+\}/g, '0'));
    return true;
  } catch {
    return false;
  }
};

/** Paths begin within the plan. */
export function notificationPlanContradictions(
  plan: NotificationPlan,
  lab: { readonly people: readonly { readonly id: string }[] },
): readonly Contradiction[] {
  const people = new Set(lab.people.map(({ id }) => id));
  return [
    ...rotaContradictions(plan, people),
    ...absenceContradictions(plan, people),
    ...plan.escalation.flatMap(({ afterMinutes }, index): readonly Contradiction[] => {
      const before = plan.escalation[index - 1]?.afterMinutes ?? -1;
      const path = ['escalation', index, 'afterMinutes'];
      return afterMinutes <= before ? [{ path, code: 'steps-out-of-order' }] : [];
    }),
    ...webhookContradictions(plan),
  ];
}

const unknownPerson = (path: Contradiction['path'], id: string): Contradiction => ({
  path,
  code: 'unknown-person',
  values: { id },
});

function rotaContradictions({ rota }: NotificationPlan, people: ReadonlySet<string>) {
  if (rota === null) return [];
  const strangers = rota.people.flatMap((id, index) =>
    people.has(id) ? [] : [unknownPerson(['rota', 'people', index], id)],
  );
  const path = ['rota', 'startsOn'];
  return isDay(rota.startsOn) ? strangers : [...strangers, { path, code: 'field-not-a-day' as const }];
}

const absenceContradictions = ({ absences }: NotificationPlan, people: ReadonlySet<string>) =>
  absences.flatMap(({ person, from, to }, index): readonly Contradiction[] => {
    const path = ['absences', index];
    return [
      ...(people.has(person) ? [] : [unknownPerson([...path, 'person'], person)]),
      ...(isDay(from) && isDay(to) && from <= to ? [] : [{ path, code: 'absence-not-a-span' as const }]),
    ];
  });

/** A user and password in an address would be in logs and on screens. */
const isAddressWithoutLogin = (url: string): boolean => {
  if (!URL.canParse(url)) return false;
  const { username, password } = new URL(url);
  return username === '' && password === '';
};

const webhookContradictions = ({ webhooks }: NotificationPlan) =>
  webhooks.flatMap(({ id, url, template }, index): readonly Contradiction[] => {
    const at = (field: string, code: ProblemCode, values?: ProblemValues): Contradiction => ({
      path: ['webhooks', index, field],
      code,
      ...(values !== undefined && { values }),
    });
    const isRepeated = webhooks.findIndex((webhook) => webhook.id === id) < index;
    return [
      ...(template === null || becomesJson(template) ? [] : [at('template', 'template-not-json')]),
      ...(isAddressWithoutLogin(url) ? [] : [at('url', 'field-not-an-address')]),
      ...(isRepeated ? [at('id', 'id-repeated', { id })] : []),
    ];
  });
