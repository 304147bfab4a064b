// Who is signed in on this device, and the way out.

import { useLocation } from 'preact-iso';
import { loadSession, session } from '../../live/session.ts';
import { ActButton } from '../../base/act-button.tsx';
import { t } from '../../base/messages.ts';
import { sendRemoval } from '../../base/api.ts';
import { ActLink } from '../../base/act-link.tsx';

export const SignedIn = () => {
  const { route } = useLocation();
  const who = session.value;
  if (who === null) return null;
  if (!who.signedIn)
    return (
      <p class="row">
        <ActLink href="/sign-in?to=/settings" text="sign-in.title" />
        {who.name !== null && <span class="dim">{t('settings.as', { name: who.name })}</span>}
      </p>
    );
  return (
    <p class="row">
      <span>{t('settings.as', { name: who.name ?? '–' })}</span>
      <ActButton
        text={t('settings.sign-out')}
        onClick={() => {
          void sendRemoval('/api/session').then(async () => {
            await loadSession();
            route('/sign-in');
          });
        }}
      />
    </p>
  );
};
