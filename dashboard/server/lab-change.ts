// One change of the described lab: checked as a whole, saved and written into the audit trail in one transaction.
// Only contradictions that the change brings are refused; an older one elsewhere must not stop a repair here.

import type { FastifyRequest } from 'fastify';
import { ALL_RULES } from '../../alerts/rules/all-rules.ts';
import { ruleParameters } from '../../alerts/rules/parameter.ts';
import type { Lab } from '../../lab/lab.ts';
import { type Contradiction, labFileContradictions, type RuleValueNames } from '../../lab/lab-file-checks.ts';
import { pathText } from '../../lab/lab-file-problem.ts';
import { audited, type Change } from './audited.ts';
import { HttpProblem } from './problem.ts';
import type { ServerContext } from './server-context.ts';

export const RULE_VALUE_NAMES: RuleValueNames = Object.fromEntries(
  ALL_RULES.map((rule) => [rule.kind, [...Object.keys(rule.parameters), 'enabled']]),
);

const ruleBounds = (lab: Lab): readonly Contradiction[] =>
  lab.stations.flatMap((station, index) =>
    ALL_RULES.flatMap((rule) =>
      ruleParameters(rule, station)
        .problems.filter((problem) => problem.code !== 'rule-parameter-unknown')
        .map((problem) => ({ path: ['stations', index, 'rules', rule.kind], message: problem.message })),
    ),
  );

const contradictions = (lab: Lab): readonly Contradiction[] => [
  ...labFileContradictions(lab, RULE_VALUE_NAMES),
  ...ruleBounds(lab),
];

export const refuseContradictions = (before: Lab, after: Lab): void => {
  const old = new Set(contradictions(before).map(({ message }) => message));
  const found = contradictions(after).filter(({ message }) => !old.has(message));
  const [first] = found;
  if (first === undefined) return;
  throw new HttpProblem('lab-contradiction', `${pathText(first.path)}: ${first.message}`, {
    errors: found.map(({ path, message }) => ({ pointer: `/${path.join('/')}`, detail: message })),
  });
};

export const changeLab = (
  { running, audit, options }: ServerContext,
  request: FastifyRequest,
  after: Lab,
  change: Change,
  save: () => void,
): void => {
  refuseContradictions(running.lab(), after);
  options.database.transaction(() => {
    audited(audit, request, change);
    save();
  });
};
