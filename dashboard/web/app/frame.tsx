// The frame round every screen but the wall: where one is, where one can go, whether the line is up, and what has
// just been raised, told to those who listen as well as to those who look.

import { useSignalEffect } from '@preact/signals';
import { useEffect, useErrorBoundary, useRef } from 'preact/hooks';
import { line, openAlarms, preparing } from '../live/lab-state.ts';
import { needsHands, toneOf } from '../base/face.ts';
import { Mark } from '../base/marks.tsx';
import { Announcer } from './announcer.tsx';
import { LineNote } from './line-note.tsx';
import { Preparing } from './preparing.tsx';
import { type MessageKey, t } from '../base/messages.ts';
import { go, route } from '../base/router.ts';
import { loadedScreens, loadScreen, screenFailed } from './screens.ts';
import { session } from '../live/session.ts';
import './frame.css';

const PLACES: readonly (readonly [href: string, screen: string, key: MessageKey])[] = [
  ['/', 'home', 'nav.lab'],
  ['/alarms', 'alarms', 'nav.alarms'],
  ['/wall', 'wall', 'nav.wall'],
  ['/patterns', 'patterns', 'nav.patterns'],
  ['/night', 'night', 'nav.night'],
  ['/probes', 'probes', 'nav.probes'],
  ['/settings', 'settings', 'nav.settings'],
];

const AlarmCount = () => {
  const waiting = openAlarms.value.filter((alarm) => needsHands(alarm) && !alarm.acknowledged);
  const worst = ['urgent', 'high', 'medium', 'low'].find((priority) =>
    waiting.some((alarm) => alarm.priority === priority),
  );
  if (!worst) return null;
  return (
    <span class="nav-count" data-tone={toneOf(worst)}>
      {waiting.length}
      <span class="unseen">{t('nav.waiting')}</span>
    </span>
  );
};

const isAt = (place: string): boolean =>
  route.value.screen === place || (place === 'settings' && route.value.screen.startsWith('set-up/'));

const Navigation = () => (
  <nav class="nav" aria-label={t('nav.label')}>
    <a class="nav-home" href="/" aria-label={t('app.name')}>
      <Mark name="in-window" />
      <span>{t('app.name')}</span>
    </a>
    <ul>
      {PLACES.map(([href, screen, key]) => (
        <li key={href} data-place={screen}>
          <a href={href} aria-current={isAt(screen) ? 'page' : undefined}>
            {t(key)}
            {screen === 'alarms' && <AlarmCount />}
          </a>
        </li>
      ))}
    </ul>
  </nav>
);

/** A wall is watched by nobody who could press a button, so it tries again by itself. */
const RETRY_MILLIS = 15_000;

const Broken = () => {
  useEffect(() => {
    const timer = setTimeout(() => location.reload(), RETRY_MILLIS);
    return () => clearTimeout(timer);
  }, []);
  return (
    <main class="page">
      <h1>{t('trouble.title')}</h1>
      <p role="alert">{t('trouble.screen')}</p>
      <button type="button" class="act" onClick={() => location.reload()}>
        {t('trouble.again')}
      </button>
    </main>
  );
};

export const Frame = () => {
  const { screen } = route.value;
  const shownBefore = useRef<string | null>(null);
  useEffect(() => {
    loadScreen(screen);
    // Whoever listens is taken to the new screen; the first one is where the browser puts them.
    if (shownBefore.current !== null && shownBefore.current !== screen)
      document.getElementById('content')?.focus();
    shownBefore.current = screen;
  }, [screen]);
  useSignalEffect(() => {
    // An empty lab without a person has one thing to show: how the first one is made.
    const { needsFirstPerson = false, standpoint } = session.value ?? {};
    if (needsFirstPerson && standpoint === null && route.value.screen !== 'sign-in') go('/sign-in', true);
  });
  useSignalEffect(() => {
    document.documentElement.dataset.line = line.value;
  });
  const [broken] = useErrorBoundary((error) => console.error(error));
  const Screen = loadedScreens.value[screen];
  if (broken || (screenFailed.value && !Screen)) return <Broken />;
  if (preparing.value !== null && screen !== 'settings' && screen !== 'sign-in') return <Preparing />;
  if (screen === 'wall')
    return (
      <>
        <Announcer />
        {Screen && <Screen />}
      </>
    );
  return (
    <>
      <a class="skip" href="#content">
        {t('nav.skip')}
      </a>
      {screen !== 'sign-in' && <Navigation />}
      <LineNote />
      <Announcer />
      <main id="content" class="page" tabIndex={-1}>
        {Screen && <Screen key={screen} />}
      </main>
    </>
  );
};
