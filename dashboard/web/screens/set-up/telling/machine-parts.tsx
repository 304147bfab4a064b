// The parts of the plan that tell machines: webhooks with their template and secret, topics of lamps and buzzers.
// A secret is made by the server from the webhook's id; it is shown and never entered.

import { useId, useState } from 'preact/hooks';
import { t } from '../../../base/messages.ts';
import { TextEntry } from '../../../forms/entries.tsx';
import type { PlanPartProps } from './plan-part.ts';
import { PlanRows } from './plan-rows.tsx';

const MOST = 20;
const MASK = '••••••••••••••••';
const EXAMPLE = '{"text":"{message}"}';

const Secret = ({ secret }: { readonly secret: string }) => {
  const [shown, setShown] = useState(false);
  const [copied, setCopied] = useState(false);
  return (
    <fieldset class="field whole-line secret-field">
      <legend>{t('telling.secret')}</legend>
      <div class="row">
        <code class="masked" data-shown={shown}>
          {shown ? secret : <span aria-hidden="true">{MASK}</span>}
        </code>
        <button type="button" class="act" aria-pressed={shown} onClick={() => setShown(!shown)}>
          {t('telling.secret-show')}
        </button>
        {'clipboard' in navigator && (
          <button
            type="button"
            class="act"
            onClick={() =>
              void navigator.clipboard.writeText(secret).then(
                () => setCopied(true),
                () => setCopied(false),
              )
            }
          >
            {t(copied ? 'keys.copied' : 'keys.copy')}
          </button>
        )}
      </div>
      <span class="dim">{t('telling.secret-hint')}</span>
    </fieldset>
  );
};

const Template = (props: {
  readonly template: string | null;
  readonly onChange: (template: string) => void;
  readonly error: string | null;
}) => {
  const id = useId();
  return (
    <details class="whole-line" open={props.template !== null || props.error !== null}>
      <summary>{t('telling.template')}</summary>
      <div class="field">
        <label for={id}>{t('telling.template-text')}</label>
        <textarea
          id={id}
          rows={4}
          spellcheck={false}
          maxLength={4000}
          value={props.template ?? ''}
          placeholder={EXAMPLE}
          aria-describedby={props.error === null ? `${id}-hint` : `${id}-hint ${id}-error`}
          {...(props.error === null ? {} : { 'aria-invalid': 'true' as const })}
          onInput={({ currentTarget }) => props.onChange(currentTarget.value)}
        />
        <span id={`${id}-hint`} class="dim">
          {t('telling.template-hint')}
        </span>
        {props.error && (
          <span id={`${id}-error`} class="entry-error" role="alert">
            {props.error}
          </span>
        )}
      </div>
    </details>
  );
};

export const WebhooksPart = ({ plan, secrets, onPlan, error }: PlanPartProps) => (
  <fieldset class="plan-part">
    <legend>{t('telling.webhooks')}</legend>
    <p class="dim">{t('telling.webhooks-hint')}</p>
    <PlanRows
      rows={plan.webhooks}
      onRows={(webhooks) => onPlan({ webhooks })}
      fresh={() => ({ id: '', name: '', url: '', template: null })}
      most={MOST}
      one="telling.webhook"
      remove="telling.webhook-remove"
      add="telling.webhook-add"
      none="telling.webhook-none"
    >
      {(webhook, change, at) => {
        const secret = secrets[webhook.id];
        return (
          <>
            <TextEntry
              label="sign-in.name"
              maxLength={80}
              value={webhook.name}
              onChange={(name) => change({ ...webhook, name })}
              error={error(`webhooks/${at}/name`, 'telling.refused-name')}
            />
            <TextEntry
              label="telling.webhook-url"
              maxLength={500}
              value={webhook.url}
              onChange={(url) => change({ ...webhook, url })}
              error={error(`webhooks/${at}/url`, 'telling.refused-url')}
            />
            <Template
              template={webhook.template}
              onChange={(template) => change({ ...webhook, template })}
              error={error(`webhooks/${at}/template`, 'telling.refused-template')}
            />
            {secret === undefined ? (
              <p class="dim whole-line">{t('telling.secret-later')}</p>
            ) : (
              <Secret secret={secret} />
            )}
          </>
        );
      }}
    </PlanRows>
  </fieldset>
);

export const LampsPart = ({ plan, onPlan, error }: PlanPartProps) => (
  <fieldset class="plan-part">
    <legend>{t('telling.lamps')}</legend>
    <p class="dim">{t('telling.lamps-hint')}</p>
    <PlanRows
      rows={plan.lampTopics}
      onRows={(lampTopics) => onPlan({ lampTopics })}
      fresh={() => ''}
      most={MOST}
      one="telling.lamp"
      remove="telling.lamp-remove"
      add="telling.lamp-add"
      none="telling.lamp-none"
    >
      {(topic, change, at) => (
        <TextEntry
          label="telling.lamp-topic"
          maxLength={200}
          value={topic}
          onChange={change}
          error={
            error(`lampTopics/${at}`, 'telling.refused-topic') ??
            (at === plan.lampTopics.length - 1 ? error('lampTopics', 'telling.refused-topics') : null)
          }
        />
      )}
    </PlanRows>
  </fieldset>
);
