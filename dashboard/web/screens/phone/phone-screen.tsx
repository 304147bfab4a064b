// The phone: the alarms to deal with, worked with one thumb, nothing else above them; then the patterns that are
// due, then the other stations.

import { useEffect } from 'preact/hooks';
import { StandingNote } from '../common/alarm/standing-note.tsx';
import { AlarmCards } from '../common/alarm/alarm-cards.tsx';
import { WithOverAlarms } from '../common/alarm/over-alarms.tsx';
import { FirstProbe } from '../common/station/first-probe.tsx';
import { OpenOffers } from '../common/open-offers.tsx';
import { t } from '../../base/messages.ts';
import { mayDo, session } from '../../live/session.ts';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { loaded, openAlarms, stations, trouble } from '../../live/lab-state.ts';
import { byUrgency, needsHands } from '../../base/face.ts';
import { DueMark, VerdictMark } from '../common/bench/verdict-mark.tsx';
import { StationRows } from '../common/station/station-row.tsx';
import { duePatterns, watchPatterns } from '../common/bench/next-pattern.ts';
import { nameOfPattern } from '../common/bench/patterns-due.ts';
import { WaitingActs } from '../../forms/waiting-acts.tsx';
import { PhoneAlarms } from './phone-alarms.tsx';
import '../common/station/overview.css';
import './phone-screen.css';
import { useTitle } from '../../base/use-title.ts';
import { ActLink } from '../../base/act-link.tsx';

const PATTERNS_SHOWN = 5;

const Patterns = () => {
  const due = duePatterns.value;
  if (due.length === 0) return null;
  return (
    <section class="phone-part">
      <h2>{t('phone-screen.patterns')}</h2>
      <ul class="phone-patterns">
        {due.slice(0, PATTERNS_SHOWN).map((pattern) => (
          <li key={pattern.id}>
            <strong>
              <a href={`/p/${pattern.id}`}>{nameOfPattern(pattern)}</a>
            </strong>
            {pattern.verdict !== null && (
              <>
                <VerdictMark verdict={pattern.verdict.code}>{pattern.verdict.text}</VerdictMark>
                <DueMark {...pattern.verdict} />
              </>
            )}
            {pattern.stationName !== null && <span class="dim">{pattern.stationName}</span>}
          </li>
        ))}
      </ul>
    </section>
  );
};

const Ways = () => (
  <p class="row phone-part phone-ways">
    {mayDo('tend-patterns') && <ActLink href="/patterns/new" text="work.register" isFirst />}
    <ActLink href="/patterns" text="nav.patterns" />
    <ActLink href="/charges" text="nav.charges" />
    <ActLink href="/wall" text="nav.wall" />
    <ActLink href="/probes" text="nav.probes" />
  </p>
);

export default function PhoneScreen() {
  useEffect(watchPatterns, []);
  useTitle(() => t('phone-screen.title'));
  if (trouble.value && !loaded.value)
    return (
      <div class="phone-screen">
        <h1>{t('phone-screen.title')}</h1>
        <TroubleNote trouble={trouble.value} />
        <WaitingActs />
      </div>
    );
  if (!loaded.value) return <p role="status">{t('line.loading')}</p>;
  if (stations.value.length === 0) return <FirstProbe />;
  const waiting = openAlarms.value.filter(needsHands).sort(byUrgency);
  return (
    <div class="phone-screen">
      <h1>{t('phone-screen.title')}</h1>
      {waiting.length === 0 ? (
        <StandingNote />
      ) : (
        <WithOverAlarms
          alarms={waiting}
          others={(alarms) => <AlarmCards listClass="phone-alarm-list" alarms={alarms} heading="h2" />}
        />
      )}
      <WaitingActs />
      <Ways />
      <Patterns />
      <OpenOffers />
      <section class="phone-part">
        <h2>{t('home.stations')}</h2>
        <StationRows />
      </section>
      {session.value !== null && <PhoneAlarms />}
    </div>
  );
}
