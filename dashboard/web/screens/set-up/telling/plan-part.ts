// What each part of the form of the plan is given.

import type { NotificationPlanBody, NotificationPlanView } from '../../../../api/notification-plan.ts';
import type { MessageKey } from '../../../base/messages.ts';
import type { People } from './plan-text.ts';

export interface PlanPartProps {
  readonly plan: NotificationPlanBody;
  readonly people: People;
  readonly secrets: NotificationPlanView['secrets'];
  readonly onPlan: (part: Partial<NotificationPlanBody>) => void;
  /** The words for a refused field when the server refused it, else null. */
  readonly error: (pointer: string, words: MessageKey) => string | null;
}
