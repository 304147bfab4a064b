// What an empty lab shows: the shortest way to the first reading on the screen.

import { health, probes } from '../../../live/lab-state.ts';
import { t } from '../../../base/messages.ts';
import { mayDo } from '../../../live/session.ts';

export const FirstProbe = () => {
  const site = health.value?.site ?? 'lab';
  const host = location.hostname;
  return (
    <section class="note">
      <h2>{t('empty.title')}</h2>
      {mayDo('set-up-lab') && (
        <p class="row">
          <a class="act" data-first="true" href="/begin">
            {t('empty.begin')}
          </a>
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
        <a class="act" href="/probes">
          {t('nav.probes')}
        </a>
        <a class="act" href="/quarantine">
          {t('quarantine.title')}
        </a>
      </p>
    </section>
  );
};
