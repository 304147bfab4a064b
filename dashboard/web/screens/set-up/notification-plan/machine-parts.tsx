// The parts of the plan for machines: webhooks with their template and secret, topics of lamps and buzzers.
// A secret is made by the server from the webhook's id; it is shown and never entered.

import { useState } from 'preact/hooks';
import { ActButton } from '../../../base/act-button.tsx';
import { CopyButton } from '../../../base/copy-button.tsx';
import { type MessageKey, t } from '../../../base/messages.ts';
import { AreaEntry } from '../../../forms/entries.tsx';
import { fieldAt } from '../../../forms/field-at.ts';
import { TextField } from '../../../forms/schema-fields.tsx';
import { type PlanPartProps, rowFields } from './plan-part.ts';
import { PlanRows } from './plan-rows.tsx';

const MASK = '••••••••••••••••';
const EXAMPLE = '{"text":"{message}"}';

export const Secret = (props: { readonly secret: string; readonly legend?: MessageKey }) => {
  const { secret, legend = 'notification-plan.secret' } = props;
  const [shown, setShown] = useState(false);
  return (
    <fieldset class="field whole-line secret-field">
      <legend>{t(legend)}</legend>
      <div class="row">
        <code class="masked" data-shown={shown}>
          {shown ? secret : <span aria-hidden="true">{MASK}</span>}
        </code>
        <ActButton
          text={t('notification-plan.secret-show')}
          isPressed={shown}
          onClick={() => setShown(!shown)}
        />
        <CopyButton text={secret} />
      </div>
      <span class="dim">{t('notification-plan.secret-hint')}</span>
    </fieldset>
  );
};

const Template = (props: {
  readonly value: string | null;
  readonly maxLength: number | undefined;
  readonly onChange: (value: string) => void;
  readonly error: string | null;
}) => (
  <details class="whole-line" open={props.value !== null || props.error !== null}>
    <summary>{t('notification-plan.template')}</summary>
    <AreaEntry
      {...props}
      label="notification-plan.template-text"
      hint={t('notification-plan.template-hint')}
      rows={4}
      value={props.value ?? ''}
      placeholder={EXAMPLE}
    />
  </details>
);

export const WebhooksPart = ({ form, plan, secrets, onPlan, error }: PlanPartProps) => (
  <fieldset class="plan-part">
    <legend>{t('notification-plan.webhooks')}</legend>
    <p class="dim">{t('notification-plan.webhooks-hint')}</p>
    <PlanRows
      rows={plan.webhooks}
      onRows={(webhooks) => onPlan({ webhooks })}
      fresh={() => ({ id: '', name: '', url: '', template: null })}
      most={fieldAt(form.fields, 'webhooks').maxItems}
      rowName="notification-plan.webhook"
      remove="notification-plan.webhook-remove"
      add="notification-plan.webhook-add"
      none="notification-plan.webhook-none"
    >
      {(webhook, change, at) => {
        const secret = secrets[webhook.id];
        const field = rowFields({ form, error }, `webhooks/${at}`, webhook, change);
        return (
          <>
            <TextField {...field('name', 'notification-plan.refused-name')} label="sign-in.name" />
            <TextField
              {...field('url', 'notification-plan.refused-url')}
              label="notification-plan.webhook-url"
            />
            <Template
              {...field('template', 'notification-plan.refused-template')}
              maxLength={fieldAt(form.fields, 'webhooks/0/template').maxLength}
            />
            {secret === undefined ? (
              <p class="dim whole-line">{t('notification-plan.secret-later')}</p>
            ) : (
              <Secret secret={secret} />
            )}
          </>
        );
      }}
    </PlanRows>
  </fieldset>
);

export const LampsPart = ({ form, plan, onPlan, error }: PlanPartProps) => (
  <fieldset class="plan-part">
    <legend>{t('notification-plan.lamps')}</legend>
    <p class="dim">{t('notification-plan.lamps-hint')}</p>
    <PlanRows
      rows={plan.lampTopics}
      onRows={(lampTopics) => onPlan({ lampTopics })}
      fresh={() => ''}
      most={fieldAt(form.fields, 'lampTopics').maxItems}
      rowName="notification-plan.lamp"
      remove="notification-plan.lamp-remove"
      add="notification-plan.lamp-add"
      none="notification-plan.lamp-none"
    >
      {(topic, change, at) => (
        <TextField
          form={form}
          at={`lampTopics/${at}`}
          label="notification-plan.lamp-topic"
          value={topic}
          onChange={change}
          error={
            error(`lampTopics/${at}`, 'notification-plan.refused-topic') ??
            (at === plan.lampTopics.length - 1
              ? error('lampTopics', 'notification-plan.refused-topics')
              : null)
          }
        />
      )}
    </PlanRows>
  </fieldset>
);
