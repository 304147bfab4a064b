// What an empty lab shows: the steps to its first station, and which probes have reported.

import { probes } from '../../../live/lab-state.ts';
import { t } from '../../../base/messages.ts';
import { mayDo } from '../../../live/session.ts';
import { ActLink } from '../../../base/act-link.tsx';

export const FirstProbe = () => (
  <section class="note">
    <h2>{t('empty.title')}</h2>
    {mayDo('set-up-lab') && (
      <p class="row">
        <ActLink href="/begin" text="empty.begin" isFirst />
      </p>
    )}
    <p>{probes.value.length > 0 ? t('empty.seen', { count: probes.value.length }) : t('empty.none-seen')}</p>
    <p class="row">
      <ActLink href="/probes" text="nav.probes" />
      <ActLink href="/quarantine" text="quarantine.title" />
    </p>
  </section>
);
