// The patterns whose time runs out, soonest first. A lab that keeps none has no such line, and a wall that may not
// read them (a link shows stations only) has none either.

import { computed, effect, signal } from '@preact/signals';
import type { PatternView } from '../../../../api/patterns.ts';
import { read } from '../../../base/api.ts';
import { labVersion } from '../../../live/lab-state.ts';
import { type PatternDue, patternsDue } from './patterns-due.ts';

/** A verdict moves every ten minutes, and each screen that is left open shows the same one. */
export const VERDICT_REFRESH_MILLIS = 60_000;

export const duePatterns = signal<readonly PatternDue[]>([]);
export const nextPattern = computed(() => duePatterns.value[0]);

export const watchPatterns = (): (() => void) => {
  const load = async (): Promise<void> => {
    const answer = await read<readonly PatternView[]>('/api/patterns');
    duePatterns.value = answer.ok ? patternsDue(answer.value) : [];
  };
  const timer = setInterval(load, VERDICT_REFRESH_MILLIS);
  const stop = effect(() => {
    if (labVersion.value > 0) void load();
  });
  return () => {
    clearInterval(timer);
    stop();
  };
};
