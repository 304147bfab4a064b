import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { GroupAlarm } from '../lab/group/group-message.ts';
import { byNeed, labNeed, NEEDS, type ReportedLab } from './lab-need.ts';

const NOW = Date.UTC(2031, 2, 3, 8);
const alarm = (change: Partial<GroupAlarm>): GroupAlarm => ({
  id: 'pot-1.over-ceiling.1',
  rule: 'over-ceiling',
  subject: 'pot-1',
  subject_kind: 'station',
  priority: 'high',
  active: true,
  acknowledged: false,
  latched: false,
  shelved_until: null,
  suppressed: false,
  out_of_service: false,
  tense: 'now',
  raised_at: new Date(NOW - 60_000).toISOString(),
  acknowledged_at: null,
  cleared_at: null,
  ...change,
});
const lab = (name: string, alarms: readonly GroupAlarm[] = [], silentMillis = 0): ReportedLab => ({
  site: name,
  name,
  timeZone: 'UTC',
  reportedAt: NOW - silentMillis,
  stations: 3,
  stationNames: new Map(),
  unwell: 0,
  alarms,
});

describe('the need of a lab', () => {
  it.each([
    ['an alarm that nobody has acknowledged', [alarm({})], 0, 'hands'],
    ['an alarm that is acknowledged', [alarm({ acknowledged: true })], 0, 'attended'],
    ['no alarm', [], 0, 'calm'],
    ['a shelved alarm', [alarm({ shelved_until: new Date(NOW).toISOString() })], 0, 'calm'],
    ['an alarm out of service', [alarm({ out_of_service: true })], 0, 'calm'],
    ['no alarm and no report for four minutes', [], 240_000, 'silent'],
    [
      'an acknowledged alarm and no report for four minutes',
      [alarm({ acknowledged: true })],
      240_000,
      'silent',
    ],
    ['an unacknowledged alarm and no report for four minutes', [alarm({})], 240_000, 'hands'],
  ] as const)('with %s is the one it should be', (_, alarms, silent, need) => {
    expect(labNeed(lab('north', alarms, silent), NOW).need).toBe(need);
  });

  it('puts the graver alarm first, and of the same gravity the one that waits longer', () => {
    const labs = [
      lab('later', [alarm({})]),
      lab('earlier', [alarm({ raised_at: new Date(NOW - 600_000).toISOString() })]),
      lab('medium', [alarm({ priority: 'medium' })]),
      lab('urgent', [alarm({ priority: 'urgent' })]),
      lab('of a newer version', [alarm({ priority: 'unheard-of' })]),
      lab('silent', [], 240_000),
    ];
    const names = byNeed(labs, NOW).map(({ lab: { name } }) => name);
    expect(names.slice(0, 2).sort()).toEqual(['of a newer version', 'urgent']);
    expect(names.slice(2)).toEqual(['earlier', 'later', 'medium', 'silent']);
  });

  it('loses no lab, and no lab of a lesser need comes before one of a greater', () => {
    const anyLab = fc.record({
      site: fc.string(),
      name: fc.string(),
      timeZone: fc.constant('UTC'),
      reportedAt: fc.integer({ min: NOW - 400_000, max: NOW }),
      stations: fc.nat(40),
      unwell: fc.nat(40),
      alarms: fc.array(
        fc
          .record({ priority: fc.constantFrom('urgent', 'high', 'low'), acknowledged: fc.boolean() })
          .map(alarm),
        { maxLength: 3 },
      ),
    });
    fc.assert(
      fc.property(fc.array(anyLab), (labs) => {
        const sorted = byNeed(labs, NOW);
        expect(sorted).toHaveLength(labs.length);
        const ranks = sorted.map(({ need }) => NEEDS.indexOf(need));
        expect(ranks).toEqual([...ranks].sort((a, b) => a - b));
      }),
    );
  });
});
