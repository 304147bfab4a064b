// The whole lab out of sight at once: the power or its network failed, or nothing was ever connected. One cause, one alarm;
// while it is looked into, and for as long after its end as gateways need to come back one by one, they and their probes
// raise none of their own. When it is over, it names what people must look at.

import type { Condition, Evaluation } from '../../rule/condition-timer.ts';
import type { Evidence } from '../../rule/finding.ts';
import { applyJudgements, findAlarm, SITE, stepAlarm } from '../findings/alarms.ts';
import { type Draft, editSiteConditions, probeOf, siteConditions } from '../state/draft.ts';
import { deliversEvery } from '../state/freshness.ts';
import { judge, type Moment } from '../findings/evaluate.ts';
import type { ExpectedGateway, LabPlan, StationPlan } from '../state/lab-plan.ts';
import type { ProbeMemory } from '../state/memory.ts';
import { canWaitForMorning, findUnseen, whatToLookAt } from './out-of-sight.ts';

type LostRule = LabPlan['gatewayRules'][number];

/** Two readings should have come by now. `awakeAt`: silence before the watch began to see time pass does not count. */
export const isOverdue = (memory: ProbeMemory, now: number, awakeAt = 0): boolean =>
  now - Math.max(memory.receivedAt, awakeAt) > 2500 * deliversEvery(memory) + 10_000;

/**
 * `dark`: so it is, or the lab comes back from it: nothing else is blamed for silence. `suspected`: it may be; nothing else
 * is raised for silence meanwhile, and what was raised before stands.
 */
export type Darkness = 'dark' | 'suspected' | 'none';

export function evaluateDarkLab(draft: Draft, lost: LostRule, moment: Moment): Darkness {
  const { gateways } = draft.plan;
  const before = siteConditions(draft.parts, SITE)?.['gateway-lost'];
  if (gateways.size < 2 && before === undefined) return 'none';
  // Nearly always the first gateway that is looked at sends.
  if (before === undefined && !areAllDark(draft, moment.at)) return 'none';
  const dark = countDark(draft, moment.at);
  const isAllDark = gateways.size > 1 && dark === gateways.size;
  const stations = [...draft.plan.stations.values()].filter(({ probes }) => probes.length > 0);
  const evaluation: Evaluation = isAllDark
    ? darkness(draft, stations, moment.at, before?.phase === 'on' ? before.evidence : null)
    : 'gone';
  const planned = {
    ...lost,
    times: {
      ...lost.times,
      updateStep: 1,
      // Gateways come back one by one; when all are there, there is nothing to wait for.
      offDelayMillis: dark === 0 ? 0 : lost.times.onDelayMillis,
    },
  };
  const judgement = judge(editSiteConditions(draft, SITE), planned, SITE, evaluation, moment, () => null);
  if (judgement?.finding.phase === 'ends') nameWhatToLookAt(draft, lost, SITE, stations, moment);
  if (judgement !== null) applyJudgements(draft, [judgement]);
  return darknessOf(siteConditions(draft.parts, SITE)?.['gateway-lost']);
}

/** By the condition of a silence that covers others. */
export const darknessOf = (condition: Condition | undefined): Darkness =>
  condition === undefined ? 'none' : condition.phase === 'on' ? 'dark' : 'suspected';

function countDark(draft: Draft, now: number): number {
  let dark = 0;
  for (const plan of draft.plan.gateways.values()) if (isDark(draft, plan, now)) dark += 1;
  return dark;
}

function areAllDark(draft: Draft, now: number): boolean {
  for (const plan of draft.plan.gateways.values()) if (!isDark(draft, plan, now)) return false;
  return true;
}

function isDark(draft: Draft, { key: gatewayKey, probes }: ExpectedGateway, now: number): boolean {
  if (draft.parts[gatewayKey]?.online === false) return true;
  const awakeAt = draft.parts.clock?.awakeAt;
  return probes.every((plan) => {
    const memory = probeOf(draft, plan);
    return memory !== undefined && isOverdue(memory, now, awakeAt);
  });
}

const hasSeenAny = ({ parts, plan }: Draft): boolean =>
  [...plan.probes.values()].some(({ key }) => (parts[key]?.readings ?? 0) > 0);

/** What was hot when the light went out stays named, though it is not seen any more. */
function darkness(
  draft: Draft,
  stations: readonly StationPlan[],
  at: number,
  recorded: Evidence | null,
): Evaluation {
  const canWait = canWaitForMorning(draft, stations, at);
  return {
    get evidence() {
      return { ...(recorded ?? firstSeen(draft, stations)), urgency: canWait ? 'can-wait' : 'now' };
    },
    worst: canWait ? 0 : 1,
  };
}

function firstSeen(draft: Draft, stations: readonly StationPlan[]): Evidence {
  const { gateways, probes } = draft.plan;
  const newest = Math.max(...[...probes.values()].map(({ key }) => draft.parts[key]?.receivedAt ?? 0));
  return {
    ...(hasSeenAny(draft) ? { since_at: newest, how: 'all-gateways' } : { how: 'never-any' }),
    gateways_count: gateways.size,
    probes_count: probes.size,
    ...whatToLookAt(draft.parts, stations),
  };
}

/** The last words of the alarm, before it ends: what was on or lies there, and what still sends nothing. */
export function nameWhatToLookAt(
  draft: Draft,
  { rule }: LostRule,
  subject: string,
  stations: readonly StationPlan[],
  { at }: Moment,
): void {
  const alarm = findAlarm(draft, subject, rule.kind);
  if (alarm === undefined) return;
  const { since_at } = alarm.evidence;
  const since = Number(since_at ?? alarm.raisedAt);
  const evidence = {
    ...alarm.evidence,
    how: since_at === undefined ? 'begun' : 'back',
    when: 'over',
    back_at: at,
    ...findUnseen(draft.parts, stations, since + 1),
  };
  stepAlarm(draft, rule, subject, { type: 'updates', at, evidence });
}
