// Which script shows which screen. A screen is loaded once; until it is there the frame shows nothing new.

import { signal } from '@preact/signals';
import type { ComponentType } from 'preact';
import { loadWords, type Part } from '../base/messages.ts';
import type { Route } from '../base/route.ts';

type Screen = Route['screen'];
type Loader = () => Promise<{ default: ComponentType }>;

const saying =
  (parts: readonly Part[], load: Loader): Loader =>
  async () => {
    const [screen] = await Promise.all([load(), loadWords(parts)]);
    return screen;
  };

const loaders: Readonly<Record<Screen, Loader>> = {
  home: saying(['work'], () => import('../screens/overview/home.tsx')),
  wall: () => import('../screens/wall/wall.tsx'),
  alarms: saying(['work'], () => import('../screens/alarms/alarms.tsx')),
  pocket: saying(['work'], () => import('../screens/pocket/pocket.tsx')),
  patterns: saying(['work'], () => import('../screens/work/patterns.tsx')),
  'patterns/new': saying(['work'], () => import('../screens/work/register.tsx')),
  pattern: saying(['work'], () => import('../screens/work/pattern.tsx')),
  charges: saying(['work'], () => import('../screens/work/charges.tsx')),
  'station-work': saying(['work'], () => import('../screens/work/station-work.tsx')),
  'fit-budget': saying(['work', 'sources'], () => import('../screens/work/fit-budget.tsx')),
  probes: () => import('../screens/overview/probes.tsx'),
  quarantine: () => import('../screens/overview/quarantine.tsx'),
  quality: saying(['quality', 'set-up', 'sources'], () => import('../screens/quality/quality.tsx')),
  night: () => import('../screens/night/night.tsx'),
  month: saying(['sources'], () => import('../screens/month/month.tsx')),
  station: saying(['work', 'sources'], () => import('../screens/station/station.tsx')),
  settings: saying(['quality', 'set-up'], () => import('../screens/settings/settings-screen.tsx')),
  'sign-in': () => import('../screens/sign-in/sign-in.tsx'),
  begin: saying(['set-up'], () => import('../screens/set-up/begin.tsx')),
  'set-up/site': saying(['set-up'], () => import('../screens/set-up/site.tsx')),
  'set-up/stations': saying(['set-up', 'sources'], () => import('../screens/set-up/stations.tsx')),
  'set-up/rules': saying(
    ['rules', 'quality', 'set-up', 'sources'],
    () => import('../screens/set-up/rule-figures.tsx'),
  ),
  'set-up/probes': saying(['set-up'], () => import('../screens/set-up/probe-set-up.tsx')),
  'set-up/waxes': saying(['set-up', 'sources'], () => import('../screens/set-up/waxes.tsx')),
  'set-up/bent-stick': saying(['set-up'], () => import('../screens/set-up/bent-stick/bent-stick.tsx')),
  'set-up/lab-file': saying(['set-up'], () => import('../screens/set-up/lab-file.tsx')),
  'set-up/telling': saying(['set-up'], () => import('../screens/set-up/telling/telling.tsx')),
  'set-up/post': saying(['set-up'], () => import('../screens/set-up/post/post.tsx')),
  'set-up/people': saying(['set-up'], () => import('../screens/people/people.tsx')),
  'set-up/keys': saying(['set-up'], () => import('../screens/people/keys.tsx')),
  'set-up/audit': saying(['set-up'], () => import('../screens/people/audit.tsx')),
  'set-up/account': saying(['set-up'], () => import('../screens/people/account.tsx')),
  nowhere: () => import('../screens/overview/nowhere.tsx'),
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
