// The page at every address: the wall alone, or what surrounds all other screens with the screen in it. Each of the
// two is a script of its own, so that a wall loads nothing of the rest.

import { signal, useSignalEffect } from '@preact/signals';
import type { ComponentType } from 'preact';
import { LocationProvider, useLocation } from 'preact-iso';
import { useEffect, useErrorBoundary } from 'preact/hooks';
import { loadWords } from '../base/messages.ts';
import { newAddressOf, PLACES } from '../base/places.ts';
import { line, preparing } from '../live/lab-state.ts';
import { session } from '../live/session.ts';
import { Announcer } from './announcer.tsx';
import { Preparing } from './preparing.tsx';
import { ScreenFailure } from './screen-failure.tsx';
import './frame.css';

const wall = signal<ComponentType | null>(null);
const around = signal<ComponentType | null>(null);

/** Loads what the page at the address is made of; a script that does not come leaves a note in its place. */
export const loadPage = async (path: string): Promise<void> => {
  const page = path === PLACES.wall ? wall : around;
  if (page.peek() !== null) return;
  try {
    if (page === wall) page.value = (await import('../screens/wall/wall.tsx')).default;
    else {
      const [loaded] = await Promise.all([import('./around.tsx'), loadWords(['daily'])]);
      loaded.preloadScreen(path);
      page.value = loaded.default;
    }
  } catch {
    page.value = ScreenFailure;
  }
};

/** Addresses that the server answers itself are left to the browser. */
const SCREENS_ONLY = /^\/(?!(api|metrics)(\/|\?|$))/;

/** Leads on from an address of before, and from an empty lab without a person to how the first one is made. */
const useRedirects = (): void => {
  const { path, url, route } = useLocation();
  const { needsFirstPerson = false, standpoint } = session.value ?? {};
  const mustSignIn = needsFirstPerson && standpoint === null && path !== PLACES['sign-in'];
  useEffect(() => {
    const moved = newAddressOf(path);
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
  const isWall = path === PLACES.wall;
  useEffect(() => void loadPage(path), [isWall]);
  if (preparing.value !== null && path !== PLACES.settings && path !== PLACES['sign-in'])
    return <Preparing />;
  const Wall = wall.value;
  const Around = around.value;
  if (!isWall) return Around && <Around />;
  return (
    <>
      <Announcer />
      {Wall && <Wall />}
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
