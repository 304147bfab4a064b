// The whole plan as a form. It is saved as one, says what differs from the saved plan, and keeps what was typed when
// somebody else saves meanwhile.

import { useEffect, useRef, useState } from 'preact/hooks';
import type { NotificationPlanBody, NotificationPlanView } from '../../../../api/notification-plan.ts';
import { notificationPlanContradictions } from '../../../../../lab/notification-plan-checks.ts';
import { put } from '../../../base/api.ts';
import { t, word } from '../../../base/messages.ts';
import { Refusal, useSaving } from '../../../forms/saving.tsx';
import { LampsPart, WebhooksPart } from './machine-parts.tsx';
import { changedParts, planBody } from './plan-draft.ts';
import { RotaPart } from './rota-part.tsx';
import { AbsencesPart, EscalationPart, HeartbeatPart, OutsideHoursPart } from './time-parts.tsx';

const PARTS = [
  RotaPart,
  AbsencesPart,
  EscalationPart,
  OutsideHoursPart,
  HeartbeatPart,
  WebhooksPart,
  LampsPart,
] as const;

interface PlanFormProps {
  readonly telling: NotificationPlanView;
  readonly onSaved: (before: NotificationPlanBody) => void;
}

export const PlanForm = ({ telling, onSaved }: PlanFormProps) => {
  const saving = useSaving();
  const form = useRef<HTMLFormElement>(null);
  const [base, setBase] = useState(telling.plan);
  const [draft, setDraft] = useState(telling.plan);
  const [sent, setSent] = useState(telling.plan);
  const changed = changedParts(base, draft);
  const isOutdated = JSON.stringify(telling.plan) !== JSON.stringify(base);
  const take = (plan: NotificationPlanBody): void => {
    setBase(plan);
    setDraft(plan);
  };
  useEffect(() => {
    if (isOutdated && changed.length === 0) take(telling.plan);
  }, [telling.plan]);
  useEffect(() => {
    if (saving.refusal !== null) form.current?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus();
  }, [saving.refusal]);
  const refusedFields = saving.refusal?.errors?.length ?? 0;
  // What the server finds only once every field has its form is shown at once with the rest.
  const contradictions =
    refusedFields === 0
      ? []
      : notificationPlanContradictions(sent, telling).map(({ path }) => path.join('/'));
  return (
    <form
      ref={form}
      class="plan"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        const body = planBody(draft);
        setSent(body);
        void saving.run(
          () => put<NotificationPlanView>('/api/notification-plan', body),
          (after) => {
            const before = telling.plan;
            take(after.plan);
            onSaved(before);
          },
        );
      }}
    >
      <h2>{t('telling.plan')}</h2>
      {!telling.isOwn && <p>{t('telling.not-own')}</p>}
      {PARTS.map((Part, at) => (
        <Part
          key={at}
          plan={draft}
          people={telling.people}
          secrets={telling.secrets}
          onPlan={(part) => setDraft({ ...draft, ...part })}
          error={(pointer, words) =>
            saving.errorAt(pointer) === null && !contradictions.includes(pointer) ? null : t(words)
          }
        />
      ))}
      <div class="plan-save" data-changed={changed.length > 0}>
        {isOutdated && changed.length > 0 && (
          <div class="row">
            <span>{t('telling.outdated')}</span>
            <button type="button" class="act" onClick={() => take(telling.plan)}>
              {t('telling.take-saved')}
            </button>
          </div>
        )}
        {refusedFields > 0 ? (
          <p class="refusal" role="alert">
            {t('telling.refused')}
          </p>
        ) : (
          <Refusal trouble={saving.refusal} retry={saving.retry} />
        )}
        <p role="status">
          {refusedFields > 0
            ? ''
            : changed.length === 0
              ? t(telling.isOwn ? 'telling.unchanged' : 'telling.unchanged-default')
              : t('telling.changed', { parts: changed.map((part) => word('plan-part', part)).join(', ') })}
        </p>
        <p class="row">
          <button
            type="submit"
            class="act"
            data-first="true"
            disabled={saving.busy || (changed.length === 0 && telling.isOwn)}
          >
            {t('set-up.save')}
          </button>
          {changed.length > 0 && (
            <button type="button" class="act" onClick={() => take(telling.plan)}>
              {t('telling.discard')}
            </button>
          )}
        </p>
      </div>
    </form>
  );
};
