// What each part of the form of the plan is given.

import type { TellingBody, TellingView } from '../../../../api/telling.ts';
import type { MessageKey } from '../../../base/messages.ts';
import type { People } from './plan-text.ts';

export interface PlanPartProps {
  readonly plan: TellingBody;
  readonly people: People;
  readonly secrets: TellingView['secrets'];
  readonly onPlan: (part: Partial<TellingBody>) => void;
  /** The words for a refused field when the server refused it, else null. */
  readonly error: (pointer: string, words: MessageKey) => string | null;
}
