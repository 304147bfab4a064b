// The whole plan as a form. It is saved as one, shows what differs from the saved plan, and keeps what was typed when
// somebody else saves meanwhile.

import { useEffect, useRef, useState } from 'preact/hooks';
import { FORM_FIELDS } from '../../../../api/form-fields.ts';
import type { NotificationPlanBody, NotificationPlanView } from '../../../../api/notification-plan.ts';
import { notificationPlanContradictions } from '../../../../../lab/lab-file/notification-plan-checks.ts';
import { ActButton } from '../../../base/act-button.tsx';
import { asRead, put, type Trouble } from '../../../base/api.ts';
import { t, word } from '../../../base/messages.ts';
import type { Opened } from '../../../forms/opened-form.tsx';
import { Refusal, type Saving, useSaving } from '../../../forms/saving.tsx';
import { LampsPart, WebhooksPart } from './machine-parts.tsx';
import { findChangedParts, type PlanPart, planBody } from './plan-draft.ts';
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
  readonly opened: Opened<number>;
  readonly onSaved: (before: NotificationPlanBody) => void;
}

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
  readonly saving: Saving;
  /** Puts the saved plan into the form. */
  readonly onDiscard: () => void;
}

const SavePanel = ({ view, changed, saving, onDiscard }: SavePanelProps) => {
  const isChanged = changed.length > 0;
  const isRefusedAtFields = isOfFields(saving.refusal);
  return (
    <div class="plan-save" data-changed={isChanged}>
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
        {isChanged && <ActButton text={t('notification-plan.discard')} onClick={onDiscard} />}
      </p>
    </div>
  );
};

export const PlanForm = ({ view, opened: { version, takeSaved }, onSaved }: PlanFormProps) => {
  const saving = useSaving();
  const form = useRef<HTMLFormElement>(null);
  const [before] = useState(view.plan);
  const [draft, setDraft] = useState(before);
  const [sent, setSent] = useState(before);
  const changed = findChangedParts(before, draft);
  // A button that was only looked behind changes nothing.
  useEffect(() => {
    if (changed.length === 0) takeSaved();
  }, [view.plan]);
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
      () => put('/api/notification-plan', body, asRead(version)),
      () => {
        takeSaved();
        onSaved(before);
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
          onPlan={(part) => setDraft((typed) => ({ ...typed, ...part }))}
          error={errorAt}
        />
      ))}
      <SavePanel
        view={view}
        changed={changed}
        saving={saving}
        onDiscard={() => {
          setDraft(before);
          takeSaved();
        }}
      />
    </form>
  );
};
