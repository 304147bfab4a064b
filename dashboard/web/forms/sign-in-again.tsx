// Asked in the midst of a form, so that what is typed in it stays: the password after half an hour, and name and password
// when the session is over.

import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { ActButton } from '../base/act-button.tsx';
import { send, type Trouble } from '../base/api.ts';
import { type MessageKey, t } from '../base/messages.ts';
import { loadSession, session } from '../live/session.ts';
import { troubleText } from '../live/trouble-note.tsx';
import { TextEntry } from './entries.tsx';

interface AskingProps {
  readonly name: MessageKey;
  readonly explain: MessageKey;
  readonly goOn: MessageKey;
  readonly busy: boolean;
  readonly onGoOn: () => void;
  readonly children: ComponentChildren;
}

const Asking = ({ name, explain, goOn, busy, onGoOn, children }: AskingProps) => (
  <fieldset
    class="confirm"
    onKeyDown={(event) => {
      if (event.key !== 'Enter' || !(event.target instanceof HTMLInputElement)) return;
      // It would send the form around it.
      event.preventDefault();
      onGoOn();
    }}
  >
    <legend>{t(name)}</legend>
    <p>{t(explain)}</p>
    {children}
    <p class="row">
      <ActButton text={t(goOn)} isFirst disabled={busy} onClick={onGoOn} />
    </p>
  </fieldset>
);

const useAsking = (onDone: () => void) => {
  const [busy, setBusy] = useState(false);
  const [refusal, setRefusal] = useState<Trouble | null>(null);
  /** Why it was refused; null when it was not. */
  const ask = async (path: string, body: object): Promise<Trouble | null> => {
    setBusy(true);
    const answer = await send(path, body);
    setRefusal(answer.ok ? null : answer.trouble);
    if (answer.ok) {
      await loadSession();
      onDone();
    }
    setBusy(false);
    return answer.ok ? null : answer.trouble;
  };
  return { busy, refusal, ask };
};

export const ConfirmPassword = ({ onConfirmed }: { readonly onConfirmed: () => void }) => {
  const [password, setPassword] = useState('');
  const { busy, refusal, ask } = useAsking(onConfirmed);
  return (
    <Asking
      name="confirm.title"
      explain="confirm.explain"
      goOn="confirm.go-on"
      busy={busy}
      onGoOn={() => void ask('/api/session/confirm', { password })}
    >
      <TextEntry
        label="sign-in.password"
        type="password"
        autoComplete="current-password"
        value={password}
        onChange={setPassword}
        error={refusal === null ? null : troubleText(refusal)}
      />
    </Asking>
  );
};

export const SignInAgain = ({ onSignedIn }: { readonly onSignedIn: () => void }) => {
  const [name, setName] = useState(session.value?.person?.name ?? '');
  const [password, setPassword] = useState('');
  const [secondFactor, setSecondFactor] = useState('');
  const [needsSecond, setNeedsSecond] = useState(false);
  const { busy, refusal, ask } = useAsking(onSignedIn);
  const signIn = async (): Promise<void> => {
    const second = needsSecond ? { secondFactor: secondFactor.trim() } : {};
    const trouble = await ask('/api/session', { name: name.trim(), password, ...second });
    if (trouble?.code === 'second-factor-needed') setNeedsSecond(true);
  };
  const isAskedFirst = refusal?.code === 'second-factor-needed' && secondFactor === '';
  return (
    <Asking
      name="sign-in.again"
      explain="sign-in.again-explain"
      goOn="sign-in.title"
      busy={busy}
      onGoOn={() => void signIn()}
    >
      <TextEntry label="sign-in.name" autoComplete="username" isVerbatim value={name} onChange={setName} />
      <TextEntry
        label="sign-in.password"
        type="password"
        autoComplete="current-password"
        value={password}
        onChange={setPassword}
        error={refusal === null || isAskedFirst ? null : (refusal.detail ?? troubleText(refusal))}
      />
      {needsSecond && (
        <TextEntry
          label="second-factor.code"
          hint={t('second-factor.code-hint')}
          autoComplete="one-time-code"
          isVerbatim
          hasFocus
          value={secondFactor}
          onChange={setSecondFactor}
        />
      )}
    </Asking>
  );
};
