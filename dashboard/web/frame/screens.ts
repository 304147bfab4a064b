// Which script shows which screen. A screen is loaded once; until it is there the frame shows nothing new.

import { signal } from '@preact/signals';
import type { ComponentType } from 'preact';
import { loadQualityWords, loadSetUpWords, loadWorkWords } from './messages.ts';
import type { Route } from './route.ts';

type Screen = Route['screen'];
type Loader = () => Promise<{ default: ComponentType }>;

const withSetUpWords =
  (load: Loader): Loader =>
  async () => {
    const [screen] = await Promise.all([load(), loadSetUpWords()]);
    return screen;
  };

const withWorkWords =
  (load: Loader): Loader =>
  async () => {
    const [screen] = await Promise.all([load(), loadWorkWords()]);
    return screen;
  };

const withQualityWords =
  (load: Loader): Loader =>
  async () => {
    const [screen] = await Promise.all([load(), loadQualityWords()]);
    return screen;
  };

const loaders: Readonly<Record<Screen, Loader>> = {
  home: withWorkWords(() => import('../overview/home.tsx')),
  wall: () => import('../wall/wall.tsx'),
  alarms: withWorkWords(() => import('../alarms/alarms.tsx')),
  pocket: withWorkWords(() => import('../pocket/pocket.tsx')),
  patterns: withWorkWords(() => import('../work/patterns.tsx')),
  'patterns/new': withWorkWords(() => import('../work/register.tsx')),
  pattern: withWorkWords(() => import('../work/pattern.tsx')),
  charges: withWorkWords(() => import('../work/charges.tsx')),
  'station-work': withWorkWords(() => import('../work/station-work.tsx')),
  'fit-budget': withWorkWords(() => import('../work/fit-budget.tsx')),
  probes: () => import('../overview/probes.tsx'),
  quarantine: () => import('../overview/quarantine.tsx'),
  quality: withQualityWords(() => import('../quality/quality.tsx')),
  night: () => import('../night/night.tsx'),
  month: () => import('../month/month.tsx'),
  station: withWorkWords(() => import('../station/station.tsx')),
  settings: withQualityWords(() => import('../settings/settings-screen.tsx')),
  'sign-in': () => import('../sign-in/sign-in.tsx'),
  begin: withSetUpWords(() => import('../set-up/begin.tsx')),
  'set-up/site': withSetUpWords(() => import('../set-up/site.tsx')),
  'set-up/stations': withSetUpWords(() => import('../set-up/stations.tsx')),
  'set-up/rules': withQualityWords(() => import('../set-up/rule-figures.tsx')),
  'set-up/probes': withSetUpWords(() => import('../set-up/probe-set-up.tsx')),
  'set-up/waxes': withSetUpWords(() => import('../set-up/waxes.tsx')),
  'set-up/bent-stick': withSetUpWords(() => import('../set-up/bent-stick/bent-stick.tsx')),
  'set-up/lab-file': withSetUpWords(() => import('../set-up/lab-file.tsx')),
  'set-up/people': withSetUpWords(() => import('../people/people.tsx')),
  'set-up/keys': withSetUpWords(() => import('../people/keys.tsx')),
  'set-up/audit': withSetUpWords(() => import('../people/audit.tsx')),
  'set-up/account': withSetUpWords(() => import('../people/account.tsx')),
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
