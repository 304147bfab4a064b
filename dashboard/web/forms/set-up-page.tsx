// The frame of each screen of set-up: its name, the way back, what was just done, and a plain word to whoever may
// not set up.

import type { ComponentChildren } from 'preact';
import { ActLink } from '../base/act-link.tsx';
import { type MessageKey, t } from '../base/messages.ts';
import { mayDo, session } from '../live/session.ts';
import { DoneNote } from './undo.tsx';
import './set-up.css';
import { useTitle } from '../base/use-title.ts';

interface SetUpPageProps {
  readonly heading: MessageKey;
  readonly explain: MessageKey;
  readonly needs: 'read' | 'set-up-lab' | 'manage-people' | 'read-audit' | 'own-account';
  readonly children: ComponentChildren;
}

export const SetUpPage = ({ heading, explain, needs, children }: SetUpPageProps) => {
  useTitle(() => t(heading));
  return (
    <div class="set-up">
      <a class="set-up-back" href="/settings">
        {t('set-up.back')}
      </a>
      <h1>{t(heading)}</h1>
      <p class="dim">{t(explain)}</p>
      <DoneNote />
      {mayDo(needs) ? (
        children
      ) : (
        <div class="refusal">
          <p>{t('set-up.not-allowed')}</p>
          {session.value?.signedIn === false && (
            <ActLink href={`/sign-in?to=${encodeURIComponent(location.pathname)}`} text="sign-in.title" />
          )}
        </div>
      )}
    </div>
  );
};
