// What a schema cannot say of a notification plan: days that exist, people of this lab, steps in order, names
// that stand once.

import type { NotificationPlan } from './notification-plan.ts';

interface Contradiction {
  readonly path: readonly (string | number)[];
  readonly message: string;
}

const isDay = (text: string): boolean => {
  const date = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text);
};

/** A name in braces becomes text inside quotes or `true` and the like outside: a digit may stand in both places. */
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
  const known = new Set(lab.people.map(({ id }) => id));
  const found: Contradiction[] = [];
  const say = (path: Contradiction['path'], message: string): void => {
    found.push({ path, message });
  };
  for (const [index, id] of (plan.rota?.people ?? []).entries())
    if (!known.has(id)) say(['rota', 'people', index], `the lab has no person "${id}"`);
  if (plan.rota !== null && !isDay(plan.rota.startsOn))
    say(['rota', 'startsOn'], `there is no day ${plan.rota.startsOn}`);
  for (const [index, { person, from, to }] of plan.absences.entries()) {
    if (!known.has(person)) say(['absences', index, 'person'], `the lab has no person "${person}"`);
    if (!isDay(from) || !isDay(to) || from > to)
      say(['absences', index], `${from} to ${to} is no span of days`);
  }
  let before = -1;
  for (const [index, { afterMinutes }] of plan.escalation.entries()) {
    if (afterMinutes <= before)
      say(['escalation', index, 'afterMinutes'], 'each step comes later than the one before');
    before = afterMinutes;
  }
  const ids = new Set<string>();
  for (const [index, { id, url, template }] of plan.webhooks.entries()) {
    if (template !== null && !becomesJson(template))
      say(['webhooks', index, 'template'], 'this is no JSON text once its names are filled in');
    if (!URL.canParse(url)) say(['webhooks', index, 'url'], `"${url}" is no address`);
    if (ids.has(id)) say(['webhooks', index, 'id'], `"${id}" stands twice`);
    ids.add(id);
  }
  return found;
}
