// The ways into set-up, as far as this person may go them.

import type { MessageKey } from '../../base/messages.ts';
import { t } from '../../base/messages.ts';
import { mayDo } from '../../live/session.ts';
import '../../forms/set-up.css';

const WAYS: readonly (readonly [href: string, needs: string, title: MessageKey])[] = [
  ['/set-up/site', 'set-up-lab', 'ways.site'],
  ['/set-up/stations', 'set-up-lab', 'ways.stations'],
  ['/set-up/rules', 'set-up-lab', 'rule-figures.title'],
  ['/set-up/probes', 'set-up-lab', 'ways.probes'],
  ['/set-up/gateways', 'set-up-lab', 'gateways.title'],
  ['/set-up/payload-mappings', 'set-up-lab', 'mapping.title'],
  ['/set-up/waxes', 'set-up-lab', 'ways.waxes'],
  ['/set-up/casting-materials', 'set-up-lab', 'ways.casting-materials'],
  ['/set-up/bent-stick', 'set-up-lab', 'bent-stick.title'],
  ['/set-up/notification-plan', 'read', 'ways.notification-plan'],
  ['/set-up/deliveries', 'read', 'ways.deliveries'],
  ['/quality', 'read', 'alarm-quality.title'],
  ['/evidence', 'read-audit', 'evidence.title'],
  ['/training', 'read', 'training.title'],
  ['/set-up/people', 'manage-people', 'ways.people'],
  ['/set-up/keys', 'manage-people', 'ways.keys'],
  ['/set-up/audit', 'read-audit', 'ways.audit'],
  ['/set-up/lab-file', 'set-up-lab', 'ways.lab-file'],
  ['/set-up/stored-readings', 'set-up-lab', 'stored.title'],
  ['/set-up/group', 'set-up-lab', 'group-link.title'],
  ['/set-up/account', 'own-account', 'ways.account'],
];

export const SetUpWays = () => {
  const ways = WAYS.filter(([, needs]) => mayDo(needs));
  if (ways.length === 0) return null;
  return (
    <nav class="set-up-ways" aria-label={t('ways.label')}>
      <h2>{t('ways.label')}</h2>
      <ul>
        {ways.map(([href, , title]) => (
          <li key={href}>
            <a href={href}>{t(title)}</a>
          </li>
        ))}
      </ul>
    </nav>
  );
};
