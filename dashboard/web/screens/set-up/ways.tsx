// The ways into set-up, as far as this person may go them, in groups by what they are about.

import type { MessageKey } from '../../base/messages.ts';
import { t } from '../../base/messages.ts';
import { mayDo } from '../../live/session.ts';
import '../../forms/set-up.css';

type Way = readonly [href: string, needs: string, title: MessageKey];
interface WayGroup {
  readonly title: MessageKey;
  readonly ways: readonly Way[];
}

const GROUPS: readonly WayGroup[] = [
  {
    title: 'ways.group-lab',
    ways: [
      ['/set-up/site', 'set-up-lab', 'ways.site'],
      ['/set-up/stations', 'set-up-lab', 'ways.stations'],
      ['/set-up/probes', 'set-up-lab', 'ways.probes'],
      ['/set-up/gateways', 'set-up-lab', 'gateways.title'],
      ['/set-up/payload-mappings', 'set-up-lab', 'mapping.title'],
    ],
  },
  {
    title: 'ways.group-alarms',
    ways: [
      ['/set-up/notification-plan', 'read', 'ways.notification-plan'],
      ['/set-up/deliveries', 'read', 'ways.deliveries'],
      ['/set-up/connections', 'set-up-lab', 'connections.title'],
      ['/set-up/rules', 'set-up-lab', 'rule-figures.title'],
      ['/quality', 'read', 'alarm-quality.title'],
    ],
  },
  {
    title: 'ways.group-wax',
    ways: [
      ['/set-up/waxes', 'set-up-lab', 'ways.waxes'],
      ['/set-up/bent-stick', 'set-up-lab', 'bent-stick.title'],
      ['/set-up/casting-materials', 'set-up-lab', 'ways.casting-materials'],
    ],
  },
  {
    title: 'ways.group-people',
    ways: [
      ['/set-up/people', 'manage-people', 'ways.people'],
      ['/set-up/keys', 'manage-people', 'ways.keys'],
      ['/set-up/account', 'own-account', 'ways.account'],
    ],
  },
  {
    title: 'ways.group-records',
    ways: [
      ['/evidence', 'read-audit', 'evidence.title'],
      ['/training', 'read', 'training.title'],
      ['/set-up/audit', 'read-audit', 'ways.audit'],
      ['/set-up/stored-readings', 'set-up-lab', 'stored.title'],
      ['/set-up/lab-file', 'set-up-lab', 'ways.lab-file'],
      ['/set-up/group', 'set-up-lab', 'group-link.title'],
    ],
  },
];

export const SetUpWays = () => {
  const groups = GROUPS.map(({ title, ways }) => ({
    title,
    ways: ways.filter(([, needs]) => mayDo(needs)),
  })).filter(({ ways }) => ways.length > 0);
  if (groups.length === 0) return null;
  return (
    <nav class="set-up-ways" aria-label={t('ways.label')}>
      <h2>{t('ways.label')}</h2>
      {groups.map(({ title, ways }) => (
        <section key={title}>
          <h3>{t(title)}</h3>
          <ul>
            {ways.map(([href, , name]) => (
              <li key={href}>
                <a href={href}>{t(name)}</a>
              </li>
            ))}
          </ul>
        </section>
      ))}
    </nav>
  );
};
