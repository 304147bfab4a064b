// The pattern whose time runs out first, when the lab keeps patterns. A lab without them has no such line.

import { computed, effect, signal } from '@preact/signals';
import { listOf, read } from '../frame/api.ts';
import { labVersion } from '../live/lab-state.ts';

export interface PatternDue {
  readonly id: string;
  readonly label: string;
  /** ISO 8601. */
  readonly investBy: string;
  readonly place: string | null;
}

interface PatternRow {
  readonly id?: unknown;
  readonly caseReference?: unknown;
  readonly investBy?: unknown;
  readonly stationName?: unknown;
  readonly fate?: unknown;
}

/** Rows that say by when, soonest first; anything else is passed over. */
export const patternsDue = (rows: readonly PatternRow[]): readonly PatternDue[] =>
  rows
    .flatMap((row) =>
      typeof row.id === 'string' && typeof row.investBy === 'string' && (row.fate ?? null) === null
        ? [
            {
              id: row.id,
              label: typeof row.caseReference === 'string' ? row.caseReference : row.id,
              investBy: row.investBy,
              place: typeof row.stationName === 'string' ? row.stationName : null,
            },
          ]
        : [],
    )
    .sort((one, other) => Date.parse(one.investBy) - Date.parse(other.investBy));

export const duePatterns = signal<readonly PatternDue[]>([]);
export const nextPattern = computed(() => duePatterns.value[0]);

export const watchPatterns = (): (() => void) =>
  effect(() => {
    if (labVersion.value === 0) return;
    void read<unknown>('/api/patterns').then((answer) => {
      duePatterns.value = answer.ok ? patternsDue(listOf<PatternRow>(answer.value, 'patterns')) : [];
    });
  });
