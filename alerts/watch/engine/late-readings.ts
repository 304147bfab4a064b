// What readings that come late reveal: they count in the dose where nothing was known, and what they show is recorded as
// past: it happened then, and is known now. They never raise a live alarm and never come twice.

import type { Reading } from '../../../lab/reading.ts';
import { MILLIS_PER_HOUR } from '../../../wax/units.ts';
import { chargeDoseLate } from '../measures/charge-dose.ts';
import type { Finding } from '../life/finding.ts';
import type { RuleKind } from '../rules/all-rules.ts';
import { applyJudgements, findAlarm } from './alarms.ts';
import { countCharges } from './charge-acts.ts';
import { type Draft, editStation } from './draft.ts';
import type { ProbePlan } from './lab-plan.ts';
import { stationInput } from './measure-station.ts';

/** Rules that one reading alone can decide. */
const DECIDED_BY_ONE_READING: readonly RuleKind[] = ['fire-risk', 'over-ceiling', 'storage-warm'];

export function takeLateReading(draft: Draft, plan: ProbePlan, reading: Reading): void {
  const { at, celsius } = reading;
  const { station } = plan;
  const memory = editStation(draft, station.key);
  countCharges(draft.lab, station, memory, (charge, wax) => chargeDoseLate(charge, at, celsius, wax));
  const then = { ...memory, at, celsius, uncertainty: plan.probe.uncertainty_celsius };
  const input = stationInput(draft.lab, station, then, draft.parts);
  for (const { rule, values } of station.rules) {
    if (!DECIDED_BY_ONE_READING.includes(rule.kind)) continue;
    const evaluation = rule.evaluate(input, values, false);
    if (typeof evaluation === 'string') continue;
    const hour = Math.floor(at / MILLIS_PER_HOUR);
    const worst = evaluation.worst ?? 0;
    const revealed = memory.revealed[rule.kind];
    // What is recorded already covers the lesser rules too: first cause first.
    if (revealed?.hour === hour && revealed.worst >= worst) return;
    memory.revealed = { ...memory.revealed, [rule.kind]: { hour, worst } };
    const begins: Finding = {
      rule: rule.kind,
      subject: station.station.id,
      subjectKind: rule.subjectKind,
      tense: 'learned',
      phase: 'begins',
      at,
      evidence: evaluation.evidence,
    };
    const findings: readonly Finding[] = [begins, { ...begins, phase: 'ends' }];
    // An alarm that is open already speaks of it; a person need not see it twice.
    if (findAlarm(draft, station.station.id, rule.kind) !== undefined) draft.findings.push(...findings);
    else
      applyJudgements(
        draft,
        findings.map((finding) => ({ rule, finding, hiddenBy: null })),
      );
    return;
  }
}
