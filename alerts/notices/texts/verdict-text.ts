// The verdict of a pattern in one sentence: what, why with its figures, and what to do next. The only place where it is
// worded, so that list, label, wall, alarm, phone, night sheet and paper cannot differ.

import type { NextStep, PatternVerdictCode, PatternReason } from '../../../lab/patterns/pattern-verdict.ts';
import type { Say } from '../../../words/load-languages.ts';
import type { Values } from '../../../words/quantity.ts';

export interface SayableVerdict {
  readonly verdict: PatternVerdictCode;
  readonly reason: PatternReason;
  readonly nextStep: NextStep;
  readonly values: Values;
}

/** @example verdictText(say, verdict) // 'Check first: predicted error 45 µm (14 µm to 94 µm), 90 µm allowed. Check its fit …' */
export const verdictText = (say: Say, { verdict, reason, nextStep, values }: SayableVerdict): string =>
  say('pattern-sentence', {
    verdict: say(`verdict.${verdict}`),
    reason: say(`pattern-reason.${reason}`, values),
    step: say(`next-step.${nextStep}`, values),
  });

interface SayableDue {
  readonly dueAt: number | null;
  readonly dueBy: 'tolerance' | 'standing' | null;
  readonly isOverdue: boolean;
}

/** When it is due, or since when it has been. */
export const dueText = (say: Say, { dueAt, dueBy, isOverdue }: SayableDue): string =>
  dueAt === null || dueBy === null
    ? say('pattern-due.never')
    : say(isOverdue ? 'pattern-due.overdue' : 'pattern-due.ahead', { due_at: dueAt, by: dueBy });
