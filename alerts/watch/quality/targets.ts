// The targets beside which the figures of alarm quality are shown. They are the starting values of ISA-18.2 /
// IEC 62682 for an operator who does nothing else, written from memory; a lab where people work at the bench has
// reason to aim lower, so the two that are about a lab's day are marked as common practice.

import type { Standing } from '../../../wax/wax-class.ts';

export interface QualityTarget {
  /** The figure holds while it is at most this; null where it is shown without a target. */
  readonly atMost: number | null;
  readonly unit: 'count' | 'share' | 'seconds';
  readonly standing: Standing;
  readonly source: string;
}

const KPI = 'key figures of ISA-18.2 / IEC 62682';
const fromMemory = (unit: QualityTarget['unit'], atMost: number, source = KPI): QualityTarget => ({
  atMost,
  unit,
  standing: 'from memory',
  source,
});
const practice = (unit: QualityTarget['unit'], atMost: number | null, source: string): QualityTarget => ({
  atMost,
  unit,
  standing: 'common practice',
  source,
});

const NO_TARGET = 'the standard names no figure; shown to be compared with earlier months';

export const QUALITY_TARGETS = {
  'per-day': fromMemory('count', 150, `${KPI}: about 150 a day are very likely acceptable`),
  'per-ten-minutes': {
    atMost: 1,
    unit: 'count',
    standing: 'published',
    source: 'EEMUA 191: fewer than one in ten minutes is acceptable',
  },
  'per-shift': practice('count', 10, 'a technician looks at the wall beside other work; no publication'),
  'per-closed-stretch': practice(
    'count',
    2,
    'nobody should be woken more than twice a night; no publication',
  ),
  'busy-hours': fromMemory('share', 0.01, `${KPI}: hours with more than 30 alarms`),
  'busy-ten-minutes': fromMemory('share', 0.01, `${KPI}: spans of ten minutes with more than 10 alarms`),
  'time-in-flood': fromMemory('share', 0.01),
  chattering: fromMemory('count', 0),
  fleeting: fromMemory('count', 0),
  'stale-on-a-day': fromMemory('count', 4, `${KPI}: fewer than 5 on any day`),
  'top-ten-share': fromMemory('share', 0.05, `${KPI}: 1 to 5 %; made for plants with many more alarms`),
  'urgent-share': fromMemory('share', 0.01, `${KPI}: split of four priorities 80/15/5/<1 %`),
  'high-share': fromMemory('share', 0.05, `${KPI}: split of four priorities 80/15/5/<1 %`),
  'medium-share': fromMemory('share', 0.15, `${KPI}: split of four priorities 80/15/5/<1 %`),
  'unauthorised-changes': fromMemory('count', 0),
  'acknowledged-median': practice('seconds', null, NO_TARGET),
  'acknowledged-p90': practice('seconds', null, NO_TARGET),
  'never-acknowledged': practice('count', null, NO_TARGET),
} as const satisfies Record<string, QualityTarget>;

export type QualityFigureName = keyof typeof QUALITY_TARGETS;

/** The standard judges no shorter span. */
export const BASIS_DAYS = 30;
