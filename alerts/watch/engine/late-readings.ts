// What readings that come late reveal: they count in the dose where nothing was known, and what they show is told as
// learned: it happened then, and is known now. They never raise a live alarm and never come twice.

import type { Reading } from '../../../lab/reading.ts';
import { MILLIS_PER_HOUR } from '../../../wax/units.ts';
import { chargeDoseLate } from '../measures/charge-dose.ts';
import type { Finding } from '../rule/finding.ts';
import type { RuleKind } from '../rule/rule-kind.ts';
import { countCharges } from './charge-acts.ts';
import type { StationPlan } from './lab-plan.ts';
import type { StationMemory } from './memory.ts';
import { sightOf } from './station-look.ts';
import { findAlarm, tell } from './tell.ts';
import type { Work } from './work.ts';

/** Rules that one reading alone can decide. */
const DECIDED_BY_ONE_READING: readonly RuleKind[] = ['fire-risk', 'over-ceiling', 'storage-warm'];

export function takeLateReading(
  work: Work,
  plan: StationPlan,
  memory: StationMemory,
  reading: Reading,
): void {
  const { at, celsius } = reading;
  countCharges(work.lab, plan, memory, (charge, wax) => chargeDoseLate(charge, at, celsius, wax));
  const probe = work.plan.probe.get(reading.probe);
  const then = { ...memory, at, celsius, uncertainty: probe?.uncertainty_celsius ?? 0 };
  const sight = sightOf(work, plan, then);
  for (const { rule, values } of plan.rules) {
    if (!DECIDED_BY_ONE_READING.includes(rule.kind)) continue;
    const look = rule.look(sight, values);
    if (typeof look === 'string') continue;
    const hour = Math.floor(at / MILLIS_PER_HOUR);
    const worst = look.worst ?? 0;
    const told = memory.learned[rule.kind];
    // What is told already covers the lesser rules too: first cause first.
    if (told?.hour === hour && told.worst >= worst) return;
    memory.learned = { ...memory.learned, [rule.kind]: { hour, worst } };
    const known = findAlarm(work, plan.station.id, rule.kind);
    const finding: Finding = {
      rule: rule.kind,
      subject: plan.station.id,
      subjectKind: rule.subjectKind,
      tense: 'learned',
      phase: 'begins',
      at,
      evidence: look.evidence,
    };
    // An alarm that is open already tells of it; a person need not see it twice.
    if (known !== undefined) {
      work.findings.push(finding, { ...finding, phase: 'ends' });
      return;
    }
    tell(work, rule, finding, () => null);
    tell(work, rule, { ...finding, phase: 'ends' }, () => null);
    return;
  }
}
