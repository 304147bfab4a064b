// The whole plan as a form. It is saved as one, says what differs from the saved plan, and keeps what was typed when
// somebody else saves meanwhile.

import { useEffect, useRef, useState } from 'preact/hooks';
import { FORM_FIELDS } from '../../../../api/form-fields.ts';
import type { NotificationPlanBody, NotificationPlanView } from '../../../../api/notification-plan.ts';
import { notificationPlanContradictions } from '../../../../../lab/lab-file/notification-plan-checks.ts';
import { ActButton } from '../../../base/act-button.tsx';
import { asRead, put, type Trouble } from '../../../base/api.ts';
import { t, word } from '../../../base/messages.ts';
import { Refusal, type Saving, useSaving } from '../../../forms/saving.tsx';
import { LampsPart, WebhooksPart } from './machine-parts.tsx';
import { changedParts, type PlanPart, planBody } from './plan-draft.ts';
import type { PlanPartProps } from './plan-part.ts';
import { RotaPart } from './rota-part.tsx';
import { AbsencesPart, EscalationPart, HeartbeatPart, OutsideHoursPart } from './time-parts.tsx';
import { submitWith } from '../../../forms/submit-with.ts';

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
  readonly view: NotificationPlanView;
  readonly onSaved: (before: NotificationPlanBody, version: number) => void;
}

/** The plan as it is typed beside the one that it began from; an untouched form follows what others save. */
const useDraft = (view: NotificationPlanView) => {
  const [{ plan: base, version }, setBase] = useState<Pick<NotificationPlanView, 'plan' | 'version'>>(view);
  const [draft, setDraft] = useState(view.plan);
  const changed = changedParts(base, draft);
  const isOutdated = JSON.stringify(view.plan) !== JSON.stringify(base);
  const take = (saved: Pick<NotificationPlanView, 'plan' | 'version'>): void => {
    setBase(saved);
    setDraft(saved.plan);
  };
  useEffect(() => {
    if (isOutdated && changed.length === 0) take(view);
  }, [view.plan]);
  const change = (part: Partial<NotificationPlanBody>): void =>
    setDraft((before) => ({ ...before, ...part }));
  return { draft, version, changed, isOutdated, take, change };
};

const stateText = (changed: readonly PlanPart[], { isOwn }: Pick<NotificationPlanView, 'isOwn'>): string => {
  if (changed.length === 0)
    return t(isOwn ? 'notification-plan.unchanged' : 'notification-plan.unchanged-default');
  return t('notification-plan.changed', { parts: changed.map((part) => word('plan-part', part)).join(', ') });
};

/** Not of the plan as a whole, which somebody else has saved meanwhile. */
const isOfFields = (refusal: Trouble | null): boolean =>
  refusal?.code !== 'changed-meanwhile' && (refusal?.errors?.length ?? 0) > 0;

interface SavePanelProps {
  readonly view: NotificationPlanView;
  readonly changed: readonly PlanPart[];
  readonly isOutdated: boolean;
  readonly saving: Saving;
  /** Puts the saved plan into the form. */
  readonly onTakeSaved: () => void;
}

const SavePanel = ({ view, changed, isOutdated, saving, onTakeSaved }: SavePanelProps) => {
  const isChanged = changed.length > 0;
  const isRefusedAtFields = isOfFields(saving.refusal);
  return (
    <div class="plan-save" data-changed={isChanged}>
      {isOutdated && isChanged && (
        <div class="row">
          <span>{t('notification-plan.outdated')}</span>
          <ActButton text={t('notification-plan.take-saved')} onClick={onTakeSaved} />
        </div>
      )}
      {isRefusedAtFields ? (
        <p class="refusal" role="alert">
          {t('notification-plan.refused')}
        </p>
      ) : (
        <Refusal trouble={saving.refusal} retry={saving.retry} />
      )}
      <p role="status">{isRefusedAtFields ? '' : stateText(changed, view)}</p>
      <p class="row">
        <ActButton text={t('set-up.save')} isFirst disabled={saving.busy || (!isChanged && view.isOwn)} />
        {isChanged && <ActButton text={t('notification-plan.discard')} onClick={onTakeSaved} />}
      </p>
    </div>
  );
};

export const PlanForm = ({ view, onSaved }: PlanFormProps) => {
  const saving = useSaving();
  const form = useRef<HTMLFormElement>(null);
  const { draft, version, changed, isOutdated, take, change } = useDraft(view);
  const [sent, setSent] = useState(view.plan);
  useEffect(() => {
    if (saving.refusal !== null) form.current?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus();
  }, [saving.refusal]);
  const isRefusedAtFields = isOfFields(saving.refusal);
  // What the server checks only once every field has its form is shown at once with the rest.
  const contradictions = isRefusedAtFields
    ? notificationPlanContradictions(sent, view).map(({ path }) => path.join('/'))
    : [];
  const errorAt: PlanPartProps['error'] = (path, words) =>
    !contradictions.includes(path) && (!isRefusedAtFields || saving.errorAt(path) === null) ? null : t(words);
  const submit = (): void => {
    const body = planBody(draft);
    setSent(body);
    void saving.run(
      () => put<NotificationPlanView>('/api/notification-plan', body, asRead(version)),
      (after) => {
        take(after);
        onSaved(view.plan, version);
      },
    );
  };
  return (
    <form ref={form} class="plan" noValidate onSubmit={submitWith(submit)}>
      <h2>{t('notification-plan.plan')}</h2>
      {!view.isOwn && <p>{t('notification-plan.not-own')}</p>}
      {PARTS.map((Part, at) => (
        <Part
          key={at}
          form={{ fields: FORM_FIELDS['notification-plan'], saving }}
          plan={draft}
          people={view.people}
          secrets={view.secrets}
          onPlan={change}
          error={errorAt}
        />
      ))}
      <SavePanel
        view={view}
        changed={changed}
        isOutdated={isOutdated}
        saving={saving}
        onTakeSaved={() => take(view)}
      />
    </form>
  );
};
