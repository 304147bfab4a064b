// What surrounds every screen but the wall: where one is, where one can go, and whether the line is up. A wall never
// loads it, nor the table of the screens.

import type { ComponentType } from 'preact';
import { Router, useLocation } from 'preact-iso';
import { t } from '../base/messages.ts';
import { PLACES, placeAt } from '../base/places.ts';
import { Announcer } from './announcer.tsx';
import { LineNote } from './line-note.tsx';
import { LoadingNote } from './loading-note.tsx';
import { nameFieldProblems } from './field-problems.ts';
import { returnLostFocus } from './lost-focus.ts';
import { Navigation } from './navigation.tsx';
import { SCREENS, type ScreenName } from './screens.ts';

returnLostFocus();
nameFieldProblems();

/** Another station is another screen: nothing of the one before may stay on it. */
const Place = ({
  component: Screen,
  ...place
}: {
  readonly path?: string;
  readonly default?: true;
  readonly component: ComponentType;
}) => <Screen key={place.path} />;

const nameAt = (path: string): ScreenName => {
  const name = placeAt(path);
  return name === 'wall' ? 'not-found' : name;
};

/** Begins to load the screen before it is drawn. */
export const preloadScreen = (path: string): void => void SCREENS[nameAt(path)].preload();

/** The screen that the address names; the one before stays until it is loaded. */
const Screen = () => {
  const { path } = useLocation();
  const name = nameAt(path);
  const place =
    name === 'not-found' ? (
      <Place key={name} default component={SCREENS[name]} />
    ) : (
      <Place key={name} path={PLACES[name]} component={SCREENS[name]} />
    );
  return (
    // Whoever listens is taken to the new screen; the first one is where the browser puts them.
    <Router onRouteChange={() => document.getElementById('content')?.focus()}>{[place]}</Router>
  );
};

export default function Around() {
  const { path } = useLocation();
  return (
    <>
      <a class="skip" href="#content">
        {t('nav.skip')}
      </a>
      {path !== PLACES['sign-in'] && <Navigation />}
      <LineNote />
      <Announcer />
      <LoadingNote />
      <main id="content" class="page" tabIndex={-1}>
        <Screen />
      </main>
    </>
  );
}
