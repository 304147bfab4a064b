// One's own second factor: begun with the password, on once the app's first code was typed, recovery codes shown once.

import { useState } from 'preact/hooks';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import type { NewSecondFactor, PersonView, RecoveryCodes } from '../../../api/people.ts';
import { type Answer, put, send } from '../../base/api.ts';
import { type MessageKey, t } from '../../base/messages.ts';
import { SubmitRow } from '../../forms/saving.tsx';
import { TextField } from '../../forms/schema-fields.tsx';
import { submitWith } from '../../forms/submit-with.ts';
import { noteDone } from '../../forms/undo.tsx';
import { useForm } from '../../forms/use-form.ts';
import { loadSession } from '../../live/session.ts';
import { CameraCode } from '../common/link-for-others.tsx';
import { OneTimeSecret } from './one-time-secret.tsx';
import { ActLink } from '../../base/act-link.tsx';

const PATH = '/api/account/second-factor';

const PasswordForm = <T,>(props: {
  readonly act: MessageKey;
  readonly work: (password: string) => Promise<Answer<T>>;
  readonly onDone: (value: T) => void;
}) => {
  const { saving, draft, field } = useForm(FORM_FIELDS.confirm, { password: '' });
  return (
    <form onSubmit={submitWith(() => saving.run(() => props.work(draft.password), props.onDone))}>
      <TextField
        {...field('password')}
        label="account.old-password"
        type="password"
        autoComplete="current-password"
      />
      <SubmitRow saving={saving} label={props.act} />
    </form>
  );
};

const FirstCode = (props: {
  readonly begun: NewSecondFactor;
  readonly onOn: (codes: RecoveryCodes) => void;
  readonly onCancel: () => void;
}) => {
  const { begun, onOn, onCancel } = props;
  const { saving, draft, field } = useForm(FORM_FIELDS['second-factor'], { code: '' });
  return (
    <form onSubmit={submitWith(() => saving.run(() => put<RecoveryCodes>(PATH, draft), onOn))}>
      <figure class="link-code">
        <CameraCode text={begun.address} label={t('second-factor.picture')} />
        <figcaption>{t('second-factor.scan')}</figcaption>
      </figure>
      <pre class="secret">
        <code>{begun.secret.replace(/.{4}(?=.)/g, '$& ')}</code>
      </pre>
      <p>
        <ActLink href={begun.address} text="second-factor.open-app" />
      </p>
      <TextField {...field('code')} label="second-factor.code" autoComplete="one-time-code" isVerbatim />
      <SubmitRow saving={saving} label="second-factor.switch-on" onCancel={onCancel} />
    </form>
  );
};

export const SecondFactor = ({ person }: { readonly person: PersonView }) => {
  const [begun, setBegun] = useState<NewSecondFactor | null>(null);
  const [recovery, setRecovery] = useState<RecoveryCodes | null>(null);
  const step = () => {
    if (recovery !== null)
      return (
        <OneTimeSecret
          text={recovery.recoveryCodes.join('\n')}
          explain={t('second-factor.recovery')}
          onDone={() => setRecovery(null)}
        />
      );
    if (person.secondFactor !== undefined)
      return (
        <>
          <p>{t('second-factor.is-on', { count: person.secondFactor.recoveryCodesLeft })}</p>
          <PasswordForm
            act="second-factor.switch-off"
            work={(password) => send(`${PATH}/off`, { password })}
            onDone={() => {
              noteDone(t('second-factor.is-off'));
              void loadSession();
            }}
          />
        </>
      );
    if (begun !== null)
      return (
        <FirstCode
          begun={begun}
          onOn={(codes) => {
            setBegun(null);
            setRecovery(codes);
            void loadSession();
          }}
          onCancel={() => setBegun(null)}
        />
      );
    return (
      <PasswordForm
        act="second-factor.begin"
        work={(password) => send<NewSecondFactor>(PATH, { password })}
        onDone={setBegun}
      />
    );
  };
  return (
    <section>
      <h2>{t('second-factor.title')}</h2>
      <p>{t('second-factor.explain')}</p>
      {step()}
    </section>
  );
};
