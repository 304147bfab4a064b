// One act of a person: journalled and applied by the running lab, written into the audit trail, or refused.

import type { FastifyRequest } from 'fastify';
import type { Act } from '../../../../lab/act.ts';
import { auditChange, type AuditedChange } from '../../context/audit-change.ts';
import { asHttpProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';

/** An act of which the rest is known from the request. */
export type ActWithout<Of, Key extends string> = Of extends unknown ? Omit<Of, Key> : never;

const subjectOf = (act: Act): AuditedChange['subject'] => {
  if ('alarm' in act) return ['alarm', act.alarm];
  if ('probes' in act) return ['probe', act.probes.join(', ')];
  return 'pattern' in act ? ['pattern', act.pattern] : ['station', act.station];
};

/**
 * `state` reads what the act changes; it is kept as it was before and is after. `save` writes what the lab's own
 * records hold of it, once the journal holds the act: what the journal does not hold has not happened.
 */
export const perform = async (
  { running, audit, options }: ServerContext,
  request: FastifyRequest,
  act: Act,
  state: () => unknown,
  save: () => void = () => {},
): Promise<void> => {
  const before = state();
  const outcome = await running.act(act);
  if (!outcome.ok) throw asHttpProblem(outcome);
  const reason = act.reason ?? (act.type === 'note' ? act.text : undefined);
  options.database.transaction(() => {
    save();
    auditChange(audit, request, {
      action: act.type,
      subject: subjectOf(act),
      before,
      after: state(),
      reason,
    });
  });
};
