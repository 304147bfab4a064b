// The targets beside which the figures of alarm quality are shown. They are the starting values of ISA-18.2 /
// IEC 62682 for an operator who does nothing else, written from memory; a lab where people work at the bench has
// reason to aim lower, so the two that are about a lab's day are marked as common practice.

import type { Source, Standing } from '../../../wax/wax-class.ts';

export interface QualityTarget {
  /** The figure holds while it is at most this; null where it is shown without a target. */
  readonly atMost: number | null;
  readonly unit: 'count' | 'share' | 'seconds';
  readonly standing: Standing;
  readonly source: Source;
}

const fromMemory = (unit: QualityTarget['unit'], atMost: number, code = 'isa-18-2'): QualityTarget => ({
  atMost,
  unit,
  standing: 'from memory',
  source: { code },
});
const practice = (unit: QualityTarget['unit'], atMost: number | null, code: string): QualityTarget => ({
  atMost,
  unit,
  standing: 'common practice',
  source: { code },
});

export const QUALITY_TARGETS = {
  'per-day': fromMemory('count', 150, 'isa-18-2-per-day'),
  'per-ten-minutes': { atMost: 1, unit: 'count', standing: 'published', source: { code: 'eemua-191' } },
  'per-shift': practice('count', 10, 'glances-at-the-wall'),
  'per-closed-stretch': practice('count', 2, 'woken-twice'),
  'busy-hours': fromMemory('share', 0.01, 'isa-18-2-busy-hours'),
  'busy-ten-minutes': fromMemory('share', 0.01, 'isa-18-2-busy-ten-minutes'),
  'time-in-flood': fromMemory('share', 0.01),
  chattering: fromMemory('count', 0),
  fleeting: fromMemory('count', 0),
  'stale-on-a-day': fromMemory('count', 4, 'isa-18-2-stale'),
  'top-ten-share': fromMemory('share', 0.05, 'isa-18-2-top-ten'),
  'urgent-share': fromMemory('share', 0.01, 'isa-18-2-priorities'),
  'high-share': fromMemory('share', 0.05, 'isa-18-2-priorities'),
  'medium-share': fromMemory('share', 0.15, 'isa-18-2-priorities'),
  'unauthorised-changes': fromMemory('count', 0),
  'acknowledged-median': practice('seconds', null, 'no-target'),
  'acknowledged-p90': practice('seconds', null, 'no-target'),
  'never-acknowledged': practice('count', null, 'no-target'),
} as const satisfies Record<string, QualityTarget>;

export type QualityFigureName = keyof typeof QUALITY_TARGETS;

/** The standard judges no shorter span. */
export const BASIS_DAYS = 30;
