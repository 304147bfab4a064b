// A place whose temperature matters, and what the lab entered of it.

import type { WaxClassId } from '../wax/classes/wax-class-id.ts';
import type { OwnFigures } from './own-figures.ts';
import type { StationKind } from './station-kinds.ts';

export interface Station {
  /** Letters, digits, `-`; at most 40; unique in the site. */
  readonly id: string;
  readonly name: string;
  readonly kind: StationKind;
  /** The wax in it or that lies there; null when the lab has not entered it. */
  readonly wax: WaxClassId | null;
  /** The lab's own values; absent means those of the wax class. */
  readonly window_celsius?: readonly [low: number, high: number];
  readonly ceiling_celsius?: number;
  /** Grams of wax when full, where it holds melted wax. */
  readonly charge_grams?: number;
  /** Drawn on average while it is at its working temperature, where it heats wax. */
  readonly heater_watts?: number;
  /** `HH:MM` on the lab's clock: when it is to be ready on a working day, where it is kept at a temperature. */
  readonly ready_by?: string;
  /** Of the rules about the station and its probes. */
  readonly rules?: OwnFigures;
}
