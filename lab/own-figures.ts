// Figures of rules that a lab sets for itself, over the defaults of each rule; keys carry their units.

import type { StationKind } from './station-kinds.ts';

/** By rule, then by figure; `enabled` switches a rule off where it may be. */
export type OwnFigures = Readonly<Record<string, Readonly<Record<string, number | boolean>>>>;

/** Where figures are set: at a station, by its kind, or once for the whole lab. */
export type FigurePlace = StationKind | 'lab';
