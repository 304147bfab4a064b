// One change on its way to the server: busy, refused at a field or as a whole, or held for the password again
// after half an hour. What was typed stays typed.

import { useEffect, useRef, useState } from 'preact/hooks';
import { ActButton } from '../base/act-button.tsx';
import type { Answer, FieldError, Trouble } from '../base/api.ts';
import { type MessageKey, t } from '../base/messages.ts';
import { labChanged } from '../live/use-loaded.ts';
import { troubleText } from '../live/trouble-note.tsx';
import { useTakeSaved } from './opened-form.tsx';
import { refusedField } from './refused-field.ts';
import { ConfirmPassword, SignInAgain } from './sign-in-again.tsx';
import { session } from '../live/session.ts';
import { ActLink } from '../base/act-link.tsx';

export interface Saving {
  readonly busy: boolean;
  readonly refusal: Trouble | null;
  readonly run: <T>(work: () => Promise<Answer<T>>, done: (value: T) => void) => Promise<void>;
  /** Does again what was refused. */
  readonly retry: () => void;
  /** What was refused of the field at this path of the body. */
  readonly errorAt: (path: string) => FieldError | null;
}

export const useSaving = (): Saving => {
  const [busy, setBusy] = useState(false);
  const [refusal, setRefusal] = useState<Trouble | null>(null);
  const last = useRef<() => Promise<void>>(async () => {});
  const isLeft = useRef(false);
  useEffect(() => {
    isLeft.current = false;
    return () => {
      isLeft.current = true;
    };
  }, []);
  const run: Saving['run'] = async (work, done) => {
    last.current = () => run(work, done);
    setBusy(true);
    const answer = await work();
    // What was requested is done all the same; the screen that comes next is not to mention it.
    if (isLeft.current) return;
    setBusy(false);
    setRefusal(answer.ok ? null : answer.trouble);
    if (answer.ok) done(answer.value);
    else if (answer.trouble.code === 'changed-meanwhile') labChanged();
  };
  return {
    busy,
    refusal,
    run,
    retry: () => void last.current(),
    errorAt: (path) => refusedField(refusal, path),
  };
};

interface RefusalProps {
  readonly trouble: Trouble | null;
  /** Asks again once the password was confirmed, or the person is signed in again. */
  readonly retry: () => void;
}

export const Refusal = ({ trouble: refusal, retry }: RefusalProps) => {
  const takeSaved = useTakeSaved();
  if (refusal === null) return null;
  if (refusal.code === 'confirm-password') return <ConfirmPassword onConfirmed={retry} />;
  // Whoever was signed in would lose on the way there what they typed here.
  if (refusal.status === 401 && session.value?.signedIn) return <SignInAgain onSignedIn={retry} />;
  return (
    <div class="refusal" role="alert">
      <p>{troubleText(refusal)}</p>
      {refusal.code !== 'changed-meanwhile' && (refusal.errors?.length ?? 0) > 1 && (
        <ul>
          {refusal.errors?.map(({ pointer, detail }) => (
            <li key={pointer + detail}>
              <span class="dim">{pointer.replace(/^\/body\//, '')}</span> {detail}
            </li>
          ))}
        </ul>
      )}
      {refusal.status === 401 && (
        <ActLink href={`/sign-in?to=${encodeURIComponent(location.pathname)}`} text="sign-in.title" />
      )}
      {refusal.code === 'changed-meanwhile' && takeSaved !== null && (
        <ActButton text={t('form.take-saved')} onClick={takeSaved} />
      )}
    </div>
  );
};

interface SubmitRowProps {
  readonly saving: Saving;
  readonly label: MessageKey;
  /** The first act of the screen. */
  readonly isFirst?: boolean;
  /** Something that is needed is not typed yet. */
  readonly isBlocked?: boolean;
  /** Absent where there is nothing to go back to. */
  readonly onCancel?: () => void;
}

/** What was refused of a form, and the buttons that send it and leave it. */
export const SubmitRow = ({
  saving,
  label,
  isFirst = false,
  isBlocked = false,
  onCancel,
}: SubmitRowProps) => (
  <>
    <Refusal trouble={saving.refusal} retry={saving.retry} />
    <p class="row">
      <ActButton text={t(label)} isFirst={isFirst} disabled={saving.busy || isBlocked} />
      {onCancel !== undefined && <ActButton text={t('form.cancel')} onClick={onCancel} />}
    </p>
  </>
);
