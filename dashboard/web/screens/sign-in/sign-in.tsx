// Signing in by name and password, or with a one-time code: the first person's from the console, everyone else's
// from a manager. Password managers and pasting work; nothing is asked that has to be remembered otherwise.

import { useSignalEffect } from '@preact/signals';
import { useLocation } from 'preact-iso';
import { useId, useState } from 'preact/hooks';
import type { SessionView } from '../../../api/people.ts';
import { send, type Trouble } from '../../base/api.ts';
import { type MessageKey, t, word } from '../../base/messages.ts';
import { safeReturn } from '../../base/places.ts';
import { loadSession, session } from '../../live/session.ts';
import { settings } from '../../base/settings.ts';
import { troubleText } from '../../live/trouble-note.tsx';
import { reload } from '../../live/lab-state.ts';
import { Mark } from '../../base/marks.tsx';
import './sign-in.css';

interface FieldProps {
  readonly label: MessageKey;
  readonly type: 'text' | 'password';
  readonly autoComplete: string;
  readonly value: string;
  readonly onInput: (value: string) => void;
}

const Field = ({ label, type, autoComplete, value, onInput }: FieldProps) => {
  const id = useId();
  const common = {
    id,
    value,
    required: true,
    autoComplete,
    autoCapitalize: 'none',
    spellcheck: false,
    onInput: (event: InputEvent) => {
      if (event.currentTarget instanceof HTMLInputElement) onInput(event.currentTarget.value);
    },
  } as const;
  return (
    <p class="field">
      <label for={id}>{t(label)}</label>
      {type === 'password' ? <input type="password" {...common} /> : <input type="text" {...common} />}
    </p>
  );
};

/** Who signs in is taken to where they wanted to go, or to the first steps of an empty lab. */
const useEntering = () => {
  const { query, route } = useLocation();
  return async (isFirst: boolean): Promise<void> => {
    await Promise.all([loadSession(), reload()]);
    route(isFirst ? '/begin' : safeReturn(query.to), true);
  };
};

/** The invented people of the demonstration, each one tap. */
const DemoPeople = ({ people }: { readonly people: NonNullable<SessionView['demoPeople']> }) => {
  const enter = useEntering();
  const [refusal, setRefusal] = useState<Trouble | null>(null);
  const signInAs = async (person: string): Promise<void> => {
    const answer = await send('/api/session/demo', { person });
    setRefusal(answer.ok ? null : answer.trouble);
    if (answer.ok) await enter(false);
  };
  return (
    <div class="sign-in">
      <p class="sign-in-name">
        <Mark name="in-window" />
        {t('app.name')}
      </p>
      <h1>{t('sign-in.demo')}</h1>
      <p>{t('sign-in.demo-explain')}</p>
      {people.map(({ id, name, role }) => (
        <button key={id} type="button" class="act" onClick={() => void signInAs(id)}>
          {`${name} (${word('role', role)})`}
        </button>
      ))}
      {refusal && <p role="alert">{troubleText(refusal)}</p>}
    </div>
  );
};

export default function SignIn() {
  const demoPeople = session.value?.demoPeople;
  return demoPeople === undefined ? <SignInForm /> : <DemoPeople people={demoPeople} />;
}

const SignInForm = () => {
  const isFirst = session.value?.needsFirstPerson === true;
  const { query } = useLocation();
  const enter = useEntering();
  const [wantsCode, setWantsCode] = useState(query.code !== undefined);
  const [name, setName] = useState('');
  const [password, setPassword] = useState('');
  const [code, setCode] = useState(query.code ?? '');
  const [refusal, setRefusal] = useState<Trouble | null>(null);
  const [busy, setBusy] = useState(false);
  const withCode = isFirst || wantsCode;
  useSignalEffect(() => {
    document.title = t('sign-in.title');
  });
  const submit = async (): Promise<void> => {
    setBusy(true);
    const answer = withCode
      ? await send('/api/join', {
          code: code.trim(),
          password,
          language: settings.value.language,
          ...(isFirst ? { name: name.trim() } : {}),
        })
      : await send('/api/session', { name: name.trim(), password });
    setBusy(false);
    setRefusal(answer.ok ? null : answer.trouble);
    if (!answer.ok) return;
    setPassword('');
    await enter(isFirst);
  };
  return (
    <form
      class="sign-in"
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      <p class="sign-in-name">
        <Mark name="in-window" />
        {t('app.name')}
      </p>
      <h1>{t(isFirst ? 'sign-in.first' : wantsCode ? 'sign-in.with-code' : 'sign-in.title')}</h1>
      {isFirst && <p>{t('sign-in.first-explain')}</p>}
      {withCode && (
        <Field label="sign-in.code" type="text" autoComplete="one-time-code" value={code} onInput={setCode} />
      )}
      {(!withCode || isFirst) && (
        <Field label="sign-in.name" type="text" autoComplete="username" value={name} onInput={setName} />
      )}
      <Field
        label={withCode ? 'sign-in.new-password' : 'sign-in.password'}
        type="password"
        autoComplete={withCode ? 'new-password' : 'current-password'}
        value={password}
        onInput={setPassword}
      />
      {refusal && (
        <p role="alert" class="sign-in-refusal">
          {refusal.status === 401 ? refusal.detail : troubleText(refusal)}
        </p>
      )}
      <button type="submit" class="act" data-first="true" disabled={busy}>
        {t(withCode ? 'sign-in.begin' : 'sign-in.title')}
      </button>
      {!isFirst && (
        <button type="button" class="act" onClick={() => setWantsCode(!wantsCode)}>
          {t(wantsCode ? 'sign-in.by-password' : 'sign-in.have-code')}
        </button>
      )}
    </form>
  );
};
