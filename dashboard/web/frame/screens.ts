// Which script shows which screen. A screen is loaded once; until it is there the frame shows nothing new.

import { signal } from '@preact/signals';
import type { ComponentType } from 'preact';
import type { Route } from './route.ts';

type Screen = Route['screen'];
type Loader = () => Promise<{ default: ComponentType }>;

const loaders: Readonly<Record<Screen, Loader>> = {
  home: () => import('../overview/home.tsx'),
  wall: () => import('../wall/wall.tsx'),
  alarms: () => import('../alarms/alarms.tsx'),
  pocket: () => import('../pocket/pocket.tsx'),
  probes: () => import('../overview/probes.tsx'),
  quarantine: () => import('../overview/quarantine.tsx'),
  night: () => import('../night/night.tsx'),
  month: () => import('../month/month.tsx'),
  station: () => import('../station/station.tsx'),
  settings: () => import('../settings/settings-screen.tsx'),
  'sign-in': () => import('../sign-in/sign-in.tsx'),
  nowhere: () => import('../overview/nowhere.tsx'),
};

export const loadedScreens = signal<Partial<Record<Screen, ComponentType>>>({});
export const screenFailed = signal(false);

export const loadScreen = (screen: Screen): void => {
  if (loadedScreens.value[screen]) return;
  loaders[screen]()
    .then((loaded) => {
      screenFailed.value = false;
      loadedScreens.value = { ...loadedScreens.value, [screen]: loaded.default };
    })
    .catch(() => {
      screenFailed.value = true;
    });
};
