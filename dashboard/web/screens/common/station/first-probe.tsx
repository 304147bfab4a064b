// What an empty lab shows: the shortest way to the first reading on the screen.

import { health, probes } from '../../../live/lab-state.ts';
import { t } from '../../../base/messages.ts';
import { mayDo } from '../../../live/session.ts';
import { ActLink } from '../../../base/act-link.tsx';

export const FirstProbe = () => {
  const site = health.value?.site ?? 'lab';
  const host = location.hostname;
  return (
    <section class="note">
      <h2>{t('empty.title')}</h2>
      {mayDo('set-up-lab') && (
        <p class="row">
          <ActLink href="/begin" text="empty.begin" isFirst />
        </p>
      )}
      <p>{t('empty.explain')}</p>
      <pre>
        <code>{`mosquitto_pub -h ${host} -t wax/${site}/bench/pot-1/celsius -m 72.4`}</code>
      </pre>
      <p>
        {probes.value.length > 0 ? t('empty.seen', { count: probes.value.length }) : t('empty.none-seen')}
      </p>
      <p class="row">
        <ActLink href="/probes" text="nav.probes" />
        <ActLink href="/quarantine" text="quarantine.title" />
      </p>
    </section>
  );
};
