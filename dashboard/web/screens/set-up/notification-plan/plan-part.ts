// What each part of the form of the plan is given.

import type { NotificationPlanBody, NotificationPlanView } from '../../../../api/notification-plan.ts';
import type { MessageKey } from '../../../base/messages.ts';
import { fieldsOf, type SchemaForm } from '../../../forms/schema-fields.tsx';
import type { People } from './plan-text.ts';

export interface PlanPartProps {
  readonly form: SchemaForm;
  readonly plan: NotificationPlanBody;
  readonly people: People;
  readonly secrets: NotificationPlanView['secrets'];
  readonly onPlan: (part: Partial<NotificationPlanBody>) => void;
  /** The words for the field at this path of the plan when the server refused it, else null. */
  readonly error: (path: string, words: MessageKey) => string | null;
}

/**
 * The fields of one row of the plan: `field('url', 'notification-plan.refused-url')` has the plan's own words for what
 * the server refused there.
 */
export const rowFields = <Row extends object>(
  { form, error }: Pick<PlanPartProps, 'form' | 'error'>,
  path: string,
  row: Row,
  change: (row: Row) => void,
) => {
  const field = fieldsOf<Row>(form, row, (part) => change({ ...row, ...part }));
  return <Name extends keyof Row & string>(name: Name, words: MessageKey) => ({
    ...field(name, `${path}/${name}`),
    error: error(`${path}/${name}`, words),
  });
};
