// The way in: on a desk the lab at a glance with the ways onward, on a phone what there is to do now.

import PhoneScreen from '../phone/phone-screen.tsx';
import { FirstProbe } from '../common/station/first-probe.tsx';
import { OpenOffers } from '../common/open-offers.tsx';
import { type MessageKey, t, word } from '../../base/messages.ts';
import { isPhoneWide } from '../../base/phone-wide.ts';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { health, loaded, openAlarms, probes, stations, trouble } from '../../live/lab-state.ts';
import { byUrgency, needsHands } from '../../base/face.ts';
import { StandingNote } from '../common/alarm/standing-note.tsx';
import { AlarmCards } from '../common/alarm/alarm-cards.tsx';
import { WithOverAlarms } from '../common/alarm/over-alarms.tsx';
import { WaitingActs } from '../../forms/waiting-acts.tsx';
import { StationRows } from '../common/station/station-row.tsx';
import '../common/station/overview.css';
import { useTitle } from '../../base/use-title.ts';

const WAYS: readonly (readonly [href: string, title: MessageKey, explain: MessageKey])[] = [
  ['/wall', 'nav.wall', 'home.wall'],
  ['/alarms', 'nav.alarms', 'home.alarms'],
  ['/patterns', 'nav.patterns', 'home.patterns'],
  ['/charges', 'nav.charges', 'home.charges'],
  ['/night', 'nav.night', 'home.night'],
  ['/probes', 'nav.probes', 'home.probes'],
  ['/quarantine', 'quarantine.title', 'home.quarantine'],
];

const Parts = () => {
  const broken = Object.entries(health.value?.parts ?? {}).filter(([, part]) => !part.ok);
  if (broken.length === 0) return null;
  return (
    <ul class="note" role="alert">
      {broken.map(([name, part]) => (
        <li key={name}>
          <strong>{word('part', name)}</strong> · {part.detail}
        </li>
      ))}
    </ul>
  );
};

const Desk = () => {
  const waiting = openAlarms.value
    .filter((alarm) => needsHands(alarm) && !alarm.acknowledged)
    .sort(byUrgency);
  const unclaimed = probes.value.filter((probe) => !probe.claimed && !probe.retired).length;
  return (
    <>
      <h1>{health.value?.siteName ?? t('nav.lab')}</h1>
      <Parts />
      {loaded.value && waiting.length === 0 && stations.value.length > 0 && <StandingNote />}
      <WithOverAlarms
        alarms={waiting}
        others={(alarms) =>
          alarms.length > 0 && (
            <section class="alarm-group">
              <h2>{t('alarms.waiting')}</h2>
              <AlarmCards alarms={alarms} />
            </section>
          )
        }
      />
      <WaitingActs />
      {loaded.value && stations.value.length === 0 && <FirstProbe />}
      {unclaimed > 0 && (
        <p class="row unclaimed">
          {t('home.unclaimed', { count: unclaimed })}
          <a href="/probes">{t('nav.probes')}</a>
        </p>
      )}
      <OpenOffers />
      {stations.value.length > 0 && (
        <section class="alarm-group">
          <h2>{t('home.stations')}</h2>
          <StationRows />
        </section>
      )}
      <nav class="ways" aria-label={t('home.ways')}>
        <ul>
          {WAYS.map(([href, title, explain]) => (
            <li key={href}>
              <a href={href}>
                <strong>{t(title)}</strong>
                <span class="dim">{t(explain)}</span>
              </a>
            </li>
          ))}
        </ul>
      </nav>
    </>
  );
};

export default function Home() {
  useTitle(() => health.value?.siteName ?? t('app.name'));
  if (trouble.value && !loaded.value) return <TroubleNote trouble={trouble.value} />;
  return isPhoneWide.value ? <PhoneScreen /> : <Desk />;
}
