// The station of an id, among those that this screen shows.

import type { Signal } from '@preact/signals';
import type { StationView } from '../../api/schemas.ts';
import { stations } from './lab-state.ts';

const sourceOf = (id: string | null | undefined): Signal<StationView> | undefined =>
  stations.value.find((station) => station.peek().id === id);

/** Undefined for one that is not in the lab. */
export const stationOf = (id: string | null | undefined): StationView | undefined => sourceOf(id)?.value;

/** One that was removed since is named by its id. No reading redraws what uses it. */
export const stationName = (id: string): string => sourceOf(id)?.peek().name ?? id;
