// The lab as a signed-in person last saw it on this device, for opening the page without a network: who must be called
// and where, never a value to be taken for a live one. It is gone once nobody is signed in.

import { signal } from '@preact/signals';
import type { AlarmView, HealthView, StationView } from '../../api/schemas.ts';

export interface LastKnown {
  readonly at: number;
  readonly health: HealthView;
  readonly stations: readonly StationView[];
  readonly alarms: readonly AlarmView[];
}

const STORE = 'waxwarden.last-known';

/** A person is signed in here. */
export const mayKeep = signal(false);

export const keepLastKnown = (lastKnown: LastKnown): void => {
  if (!mayKeep.peek()) return;
  const stations = lastKnown.stations.map((station) => ({ ...station, trend: [] }));
  try {
    localStorage.setItem(STORE, JSON.stringify({ ...lastKnown, stations }));
  } catch {
    // No room or no storage: then nothing is known without a network.
  }
};

export const recallLastKnown = (): LastKnown | null => {
  try {
    const lastKnown = JSON.parse(localStorage.getItem(STORE) ?? 'null') as LastKnown | null;
    // What ended lately was lately when it was kept.
    return (
      lastKnown && {
        ...lastKnown,
        stations: lastKnown.stations.map((view) => ({ ...view, endedIntents: [] })),
      }
    );
  } catch {
    return null;
  }
};

export const forgetLastKnown = (): void => {
  mayKeep.value = false;
  localStorage.removeItem(STORE);
};

// Signed out in another tab.
addEventListener('storage', ({ key, newValue }) => {
  if ((key === STORE || key === null) && newValue === null) mayKeep.value = false;
});
