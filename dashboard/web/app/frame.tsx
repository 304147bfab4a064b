// The frame round every screen but the wall: where one is, where one can go, whether the line is up, and what was
// just raised, for those who listen as well as for those who look.

import { useSignalEffect } from '@preact/signals';
import type { ComponentType } from 'preact';
import { LocationProvider, Router, useLocation } from 'preact-iso';
import { useEffect, useErrorBoundary } from 'preact/hooks';
import { t } from '../base/messages.ts';
import { movedTo, PLACES, placeAt } from '../base/places.ts';
import { line, preparing } from '../live/lab-state.ts';
import { session } from '../live/session.ts';
import { Announcer } from './announcer.tsx';
import { ScreenFailure } from './screen-failure.tsx';
import { LineNote } from './line-note.tsx';
import { Navigation } from './navigation.tsx';
import { Preparing } from './preparing.tsx';
import { SCREENS } from './screens.ts';
import './frame.css';

/** Addresses that the server answers itself are left to the browser. */
const SCREENS_ONLY = /^\/(?!(api|metrics)(\/|\?|$))/;

/** Another station is another screen: nothing of the one before may stay on it. */
const Place = ({
  component: Screen,
  ...place
}: {
  readonly path?: string;
  readonly default?: true;
  readonly component: ComponentType;
}) => <Screen key={place.path} />;

/** The screen that the address names; the one before stays until it is loaded. */
const Screen = () => {
  const { path } = useLocation();
  const name = placeAt(path);
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

/** Leads on from an address of before, and from an empty lab without a person to how the first one is made. */
const useRedirects = (): void => {
  const { path, url, route } = useLocation();
  const { needsFirstPerson = false, standpoint } = session.value ?? {};
  const mustSignIn = needsFirstPerson && standpoint === null && path !== PLACES['sign-in'];
  useEffect(() => {
    const moved = movedTo(path);
    if (mustSignIn) route(PLACES['sign-in'], true);
    else if (moved !== null) route(moved + url.slice(path.length), true);
  }, [path, mustSignIn]);
};

const Page = () => {
  const { path } = useLocation();
  useRedirects();
  useSignalEffect(() => {
    document.documentElement.dataset.line = line.value;
  });
  const isSignIn = path === PLACES['sign-in'];
  if (preparing.value !== null && path !== PLACES.settings && !isSignIn) return <Preparing />;
  if (path === PLACES.wall)
    return (
      <>
        <Announcer />
        <Screen />
      </>
    );
  return (
    <>
      <a class="skip" href="#content">
        {t('nav.skip')}
      </a>
      {!isSignIn && <Navigation />}
      <LineNote />
      <Announcer />
      <main id="content" class="page" tabIndex={-1}>
        <Screen />
      </main>
    </>
  );
};

export const Frame = () => {
  const [broken] = useErrorBoundary((error) => console.error(error));
  if (broken)
    return (
      <main>
        <ScreenFailure />
      </main>
    );
  return (
    <LocationProvider scope={SCREENS_ONLY}>
      <Page />
    </LocationProvider>
  );
};
