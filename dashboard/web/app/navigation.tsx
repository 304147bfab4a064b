// Where one can go, where one is, and how many alarms wait.

import { useLocation } from 'preact-iso';
import { needsHands, toneOf } from '../base/face.ts';
import { Mark } from '../base/marks.tsx';
import { type MessageKey, t } from '../base/messages.ts';
import { PLACES, type PlaceName } from '../base/places.ts';
import { openAlarms } from '../live/lab-state.ts';

const WAYS: readonly (readonly [place: PlaceName, key: MessageKey])[] = [
  ['home', 'nav.lab'],
  ['alarms', 'nav.alarms'],
  ['wall', 'nav.wall'],
  ['patterns', 'nav.patterns'],
  ['charges', 'nav.charges'],
  ['night', 'nav.night'],
  ['probes', 'nav.probes'],
  ['settings', 'nav.settings'],
];

/** Screens that are reached from one of these and lie below it. */
const BELOW: Partial<Readonly<Record<PlaceName, readonly string[]>>> = {
  home: ['/station/', '/s/'],
  alarms: [PLACES.quality],
  patterns: ['/patterns/', '/p/', PLACES['fit-budget'], PLACES['fit-proof']],
  charges: [PLACES.lots],
  night: [PLACES.month],
  probes: ['/probe/', PLACES.quarantine],
  settings: ['/set-up/', PLACES.evidence, PLACES.training],
};

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

export const Navigation = () => {
  const { path } = useLocation();
  const current = (place: PlaceName): 'page' | 'true' | undefined => {
    if (path === PLACES[place]) return 'page';
    return (BELOW[place] ?? []).some((start) => path.startsWith(start)) ? 'true' : undefined;
  };
  return (
    <nav class="nav" aria-label={t('nav.label')}>
      <a class="nav-home" href="/" aria-label={t('app.name')}>
        <Mark name="in-window" />
        <span>{t('app.name')}</span>
      </a>
      <ul>
        {WAYS.map(([place, key]) => (
          <li key={place} data-place={place}>
            <a href={PLACES[place]} aria-current={current(place)}>
              {t(key)}
              {place === 'alarms' && <AlarmCount />}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
};
