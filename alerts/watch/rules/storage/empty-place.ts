// A place where nothing waits is measured, and nobody is called to it.

import type { StationInput } from '../../rule/rule-input.ts';

/** No pattern lies there, and the lab named no wax for it; limits alone prove nothing about what lies there. */
export const emptyPlace = ({
  patterns,
  station,
}: Pick<StationInput, 'patterns' | 'station'>): 'empty' | null =>
  patterns.length === 0 && station.wax === null ? 'empty' : null;
