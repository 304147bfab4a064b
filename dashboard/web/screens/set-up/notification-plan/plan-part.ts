// What each part of the form of the plan is given.

import type { NotificationPlanBody, NotificationPlanView } from '../../../../api/notification-plan.ts';
import type { MessageKey } from '../../../base/messages.ts';
import type { SchemaForm } from '../../../forms/schema-fields.tsx';
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
