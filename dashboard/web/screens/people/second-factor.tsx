// One's own second factor: begun with the password, on once the app's first code was typed, recovery codes shown once.

import { useState } from 'preact/hooks';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import type { NewSecondFactor, PersonView, RecoveryCodes } from '../../../api/people.ts';
import { type Answer, put, send } from '../../base/api.ts';
import { type MessageKey, t } from '../../base/messages.ts';
import { SubmitRow, useSaving } from '../../forms/saving.tsx';
import { TextField } from '../../forms/schema-fields.tsx';
import { submitWith } from '../../forms/submit-with.ts';
import { noteDone } from '../../forms/undo.tsx';
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
  const saving = useSaving();
  const [password, setPassword] = useState('');
  return (
    <form onSubmit={submitWith(() => saving.run(() => props.work(password), props.onDone))}>
      <TextField
        form={{ fields: FORM_FIELDS.confirm, saving }}
        at="password"
        label="account.old-password"
        type="password"
        autoComplete="current-password"
        value={password}
        onChange={setPassword}
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
  const saving = useSaving();
  const [code, setCode] = useState('');
  return (
    <form onSubmit={submitWith(() => saving.run(() => put<RecoveryCodes>(PATH, { code }), onOn))}>
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
      <TextField
        form={{ fields: FORM_FIELDS['second-factor'], saving }}
        at="code"
        label="second-factor.code"
        autoComplete="one-time-code"
        isVerbatim
        value={code}
        onChange={setCode}
      />
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
