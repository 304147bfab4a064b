// Which script shows which screen but the wall, and which words it needs. A screen is loaded when it is first needed.

import { signal } from '@preact/signals';
import type { ComponentType } from 'preact';
import { lazy } from 'preact-iso';
import { loadWords, type Part } from '../base/messages.ts';
import type { PlaceName } from '../base/places.ts';
import { ScreenFailure } from './screen-failure.tsx';

/** Those that the frame surrounds; the wall is loaded by itself. */
export type ScreenName = Exclude<PlaceName, 'wall'> | 'not-found';

type Load = () => Promise<{ default: ComponentType }>;

/** How many are being loaded. */
export const screensOnTheWay = signal(0);

/** Each has the words of the daily screens, and those named here besides. */
const screen = (load: Load, more: readonly Part[] = []) =>
  lazy(async () => {
    screensOnTheWay.value += 1;
    try {
      const [loaded] = await Promise.all([load(), loadWords(['daily', ...more])]);
      return loaded;
    } catch {
      return { default: ScreenFailure };
    } finally {
      screensOnTheWay.value -= 1;
    }
  });

export const SCREENS = {
  home: screen(() => import('../screens/overview/home.tsx'), ['work']),
  alarms: screen(() => import('../screens/alarms/alarms.tsx'), ['work']),
  phone: screen(() => import('../screens/phone/phone-screen.tsx'), ['work']),
  patterns: screen(() => import('../screens/work/patterns.tsx'), ['work']),
  'patterns/new': screen(() => import('../screens/work/register.tsx'), ['work']),
  pattern: screen(() => import('../screens/work/pattern.tsx'), ['work', 'materials']),
  charges: screen(() => import('../screens/work/charges.tsx'), ['work']),
  lots: screen(() => import('../screens/work/lots.tsx'), ['work', 'materials', 'set-up']),
  lot: screen(() => import('../screens/work/lot.tsx'), ['work', 'materials', 'set-up', 'sources']),
  'station-work': screen(() => import('../screens/work/station-work.tsx'), ['work']),
  'fit-budget': screen(() => import('../screens/work/fit-budget.tsx'), ['work', 'sources', 'set-up']),
  'fit-proof': screen(() => import('../screens/work/fit-proof.tsx'), ['work', 'materials', 'set-up']),
  probes: screen(() => import('../screens/overview/probes.tsx')),
  probe: screen(() => import('../screens/probe/probe.tsx'), ['set-up', 'sources']),
  quarantine: screen(() => import('../screens/overview/quarantine.tsx')),
  quality: screen(() => import('../screens/quality/quality.tsx'), ['quality', 'set-up', 'sources']),
  night: screen(() => import('../screens/night/night.tsx'), ['sheets']),
  month: screen(() => import('../screens/month/month.tsx'), ['sheets', 'sources']),
  evidence: screen(() => import('../screens/evidence/evidence.tsx'), ['evidence', 'sheets', 'set-up']),
  training: screen(() => import('../screens/evidence/training.tsx'), ['evidence', 'set-up']),
  station: screen(() => import('../screens/station/station.tsx'), ['work', 'sources']),
  settings: screen(
    () => import('../screens/settings/settings-screen.tsx'),
    ['quality', 'set-up', 'evidence'],
  ),
  'sign-in': screen(() => import('../screens/sign-in/sign-in.tsx'), ['set-up']),
  begin: screen(() => import('../screens/set-up/begin.tsx'), ['set-up', 'sources']),
  'set-up/site': screen(() => import('../screens/set-up/site.tsx'), ['set-up']),
  'set-up/stations': screen(() => import('../screens/set-up/stations.tsx'), ['set-up', 'sources']),
  'set-up/rules': screen(
    () => import('../screens/set-up/rule-figures.tsx'),
    ['rules', 'quality', 'set-up', 'sources'],
  ),
  'set-up/probes': screen(() => import('../screens/set-up/probe-set-up.tsx'), ['set-up']),
  'set-up/gateways': screen(() => import('../screens/set-up/gateways.tsx'), ['set-up']),
  'set-up/payload-mappings': screen(() => import('../screens/set-up/payload-mappings.tsx'), ['set-up']),
  'set-up/waxes': screen(() => import('../screens/set-up/waxes.tsx'), ['set-up', 'sources']),
  'set-up/casting-materials': screen(
    () => import('../screens/set-up/casting-materials.tsx'),
    ['work', 'materials', 'set-up'],
  ),
  'set-up/bent-stick': screen(() => import('../screens/set-up/bent-stick/bent-stick.tsx'), ['set-up']),
  'set-up/lab-file': screen(() => import('../screens/set-up/lab-file.tsx'), ['set-up']),
  'set-up/stored-readings': screen(() => import('../screens/set-up/stored-readings.tsx'), ['set-up']),
  'set-up/group': screen(() => import('../screens/set-up/group-link.tsx'), ['rules', 'quality', 'set-up']),
  'set-up/connections': screen(() => import('../screens/set-up/connections.tsx'), ['set-up']),
  'set-up/notification-plan': screen(
    () => import('../screens/set-up/notification-plan/notification-plan.tsx'),
    ['set-up'],
  ),
  'set-up/deliveries': screen(() => import('../screens/set-up/deliveries/deliveries.tsx'), ['set-up']),
  'set-up/people': screen(() => import('../screens/people/people.tsx'), ['set-up']),
  'set-up/keys': screen(() => import('../screens/people/keys.tsx'), ['set-up']),
  'set-up/audit': screen(() => import('../screens/people/audit.tsx'), ['set-up']),
  'set-up/account': screen(() => import('../screens/people/account.tsx'), ['set-up']),
  'not-found': screen(() => import('../screens/overview/not-found.tsx')),
} satisfies Readonly<Record<ScreenName, ComponentType>>;
