// An address that leads to no screen.

import { t } from '../../base/messages.ts';

export default function NotFound() {
  return (
    <div class="note">
      <h1>{t('not-found.title')}</h1>
      <p>{t('trouble.not-found')}</p>
      <p class="row">
        <a class="act" href="/">
          {t('nav.lab')}
        </a>
      </p>
    </div>
  );
}
