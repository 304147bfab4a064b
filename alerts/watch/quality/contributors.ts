// Which rules at which places bring the most alarms, and what is wrong with them: the list to work on.

import type { RuleKind } from '../rules/all-rules.ts';
import type { Announcement, Stay } from './announcements.ts';

export interface Contributor {
  readonly rule: RuleKind;
  readonly subject: string;
  readonly count: number;
  readonly share: number;
  /** Announcements that came three or more in a minute. */
  readonly chattering: number;
  readonly fleeting: number;
  readonly stale: number;
}

/** Most first; those of equal count in the order of their names. */
export function contributors(
  announced: readonly Announcement[],
  chatters: ReadonlyMap<string, number>,
  fleets: readonly Stay[],
  stales: readonly Stay[],
): readonly Contributor[] {
  const points = new Map<string, { rule: RuleKind; subject: string; count: number }>();
  for (const { point, rule, subject } of [...announced, ...stales])
    if (!points.has(point)) points.set(point, { rule, subject, count: 0 });
  for (const { point } of announced) {
    const row = points.get(point);
    if (row !== undefined) row.count += 1;
  }
  const among = (stays: readonly Stay[], point: string): number =>
    stays.filter((stay) => stay.point === point).length;
  return [...points]
    .map(([point, row]) => ({
      ...row,
      share: announced.length === 0 ? 0 : row.count / announced.length,
      chattering: chatters.get(point) ?? 0,
      fleeting: among(fleets, point),
      stale: among(stales, point),
    }))
    .sort((a, b) => b.count - a.count || `${a.subject} ${a.rule}`.localeCompare(`${b.subject} ${b.rule}`));
}
