// An address that leads to no screen.

import { t } from '../../base/messages.ts';
import { ActLink } from '../../base/act-link.tsx';

export default function NotFound() {
  return (
    <div class="note">
      <h1>{t('not-found.title')}</h1>
      <p>{t('trouble.not-found')}</p>
      <p class="row">
        <ActLink href="/" text="nav.lab" />
      </p>
    </div>
  );
}
