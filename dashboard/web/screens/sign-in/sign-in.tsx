// Signing in by name and password, or with a one-time code: the first person's from the console, everyone else's
// from a manager. Password managers and pasting work; nothing is required that has to be remembered otherwise.

import { useLocation } from 'preact-iso';
import { useEffect, useState } from 'preact/hooks';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import type { SessionView } from '../../../api/people.ts';
import { ActButton } from '../../base/act-button.tsx';
import { ActLink } from '../../base/act-link.tsx';
import { SignedIn } from '../settings/signed-in.tsx';
import { send, type Trouble } from '../../base/api.ts';
import { t, word } from '../../base/messages.ts';
import { safeReturn } from '../../base/places.ts';
import { refusedField } from '../../forms/refused-field.ts';
import { fieldsOf, TextField } from '../../forms/schema-fields.tsx';
import { loadSession, session } from '../../live/session.ts';
import { settings } from '../../base/settings.ts';
import { troubleText } from '../../live/trouble-note.tsx';
import { reload } from '../../live/lab-state.ts';
import { Mark } from '../../base/marks.tsx';
import './sign-in.css';
import { submitWith } from '../../forms/submit-with.ts';
import { useTitle } from '../../base/use-title.ts';

/** Who signs in is taken to where they wanted to go, or to the first steps of an empty lab. */
const useEntering = () => {
  const { query, route } = useLocation();
  return async (isFirst: boolean): Promise<void> => {
    await Promise.all([loadSession(), reload()]);
    route(isFirst ? '/begin' : safeReturn(query.to), true);
  };
};

const AppName = () => (
  <p class="sign-in-name">
    <Mark name="in-window" />
    {t('app.name')}
  </p>
);

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
      <AppName />
      <h1>{t('sign-in.demo')}</h1>
      <p>{t('sign-in.demo-explain')}</p>
      {people.map(({ id, name, role }) => (
        <ActButton key={id} text={`${name} (${word('role', role)})`} onClick={() => void signInAs(id)} />
      ))}
      {refusal && <p role="alert">{troubleText(refusal)}</p>}
    </div>
  );
};

/** An invitation is for somebody else, and is taken up all the same. */
const useIsIn = (): boolean => {
  const { query } = useLocation();
  // Settled when the page opens: whoever signs in here is led on. The session may have ended meanwhile.
  const [wasIn] = useState(session.value?.signedIn === true && query.code === undefined);
  useEffect(() => {
    if (wasIn) void loadSession();
  }, []);
  return wasIn && session.value?.signedIn === true;
};

const AlreadyIn = () => {
  useTitle(() => t('sign-in.title'));
  return (
    <div class="sign-in">
      <AppName />
      <h1>{t('sign-in.title')}</h1>
      <SignedIn />
      <ActLink href="/" text="nav.lab" />
    </div>
  );
};

export default function SignIn() {
  const isIn = useIsIn();
  const demoPeople = session.value?.demoPeople;
  if (isIn) return <AlreadyIn />;
  return demoPeople === undefined ? <SignInForm /> : <DemoPeople people={demoPeople} />;
}

const SignInForm = () => {
  const isFirst = session.value?.needsFirstPerson === true;
  const { query } = useLocation();
  const enter = useEntering();
  const [wantsCode, setWantsCode] = useState(query.code !== undefined);
  const [draft, setDraft] = useState({ name: '', password: '', code: query.code ?? '', secondFactor: '' });
  const [needsSecondFactor, setNeedsSecondFactor] = useState(false);
  const [refusal, setRefusal] = useState<Trouble | null>(null);
  const [busy, setBusy] = useState(false);
  const withCode = isFirst || wantsCode;
  const change = (part: Partial<typeof draft>): void => setDraft((before) => ({ ...before, ...part }));
  const field = fieldsOf(
    {
      fields: withCode ? FORM_FIELDS.join : FORM_FIELDS['sign-in'],
      saving: { errorAt: (path) => refusedField(refusal, path) },
    },
    draft,
    change,
  );
  useTitle(() => t('sign-in.title'));
  const submit = async (): Promise<void> => {
    setBusy(true);
    const { password } = draft;
    const name = draft.name.trim();
    const second = needsSecondFactor ? { secondFactor: draft.secondFactor.trim() } : {};
    const answer = withCode
      ? await send('/api/join', {
          code: draft.code.trim(),
          password,
          language: settings.value.language,
          ...(isFirst ? { name } : {}),
          ...second,
        })
      : await send('/api/session', { name, password, ...second });
    setBusy(false);
    setRefusal(answer.ok ? null : answer.trouble);
    if (!answer.ok && answer.trouble.code === 'second-factor-needed') {
      setNeedsSecondFactor(true);
      change({ secondFactor: '' });
    }
    if (!answer.ok) return;
    change({ password: '' });
    await enter(isFirst);
  };
  return (
    <form class="sign-in" onSubmit={submitWith(submit)}>
      <AppName />
      <h1>{t(isFirst ? 'sign-in.first' : wantsCode ? 'sign-in.with-code' : 'sign-in.title')}</h1>
      {isFirst && <p>{t('sign-in.first-explain')}</p>}
      {withCode && (
        <TextField {...field('code')} label="sign-in.code" autoComplete="one-time-code" isVerbatim />
      )}
      {(!withCode || isFirst) && (
        <TextField {...field('name')} label="sign-in.name" autoComplete="username" isVerbatim />
      )}
      <TextField
        {...field('password')}
        label={withCode ? 'sign-in.new-password' : 'sign-in.password'}
        {...(withCode && { hint: t('sign-in.password-hint') })}
        type="password"
        autoComplete={withCode ? 'new-password' : 'current-password'}
        isVerbatim
      />
      {needsSecondFactor && (
        <TextField
          {...field('secondFactor')}
          label="second-factor.code"
          hint={t('second-factor.code-hint')}
          autoComplete="one-time-code"
          isVerbatim
          hasFocus
        />
      )}
      {refusal && (
        <p role="alert" class="sign-in-refusal">
          {refusal.status === 401 ? refusal.detail : troubleText(refusal)}
        </p>
      )}
      <ActButton text={t(withCode ? 'sign-in.begin' : 'sign-in.title')} isFirst disabled={busy} />
      {!isFirst && (
        <ActButton
          text={t(wantsCode ? 'sign-in.by-password' : 'sign-in.have-code')}
          onClick={() => setWantsCode(!wantsCode)}
        />
      )}
    </form>
  );
};
