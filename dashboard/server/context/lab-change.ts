// One change of the described lab: checked as a whole, saved and written into the audit trail in one transaction.
// Only contradictions that the change brings are refused; an older one elsewhere must not stop a repair here.

import type { FastifyRequest } from 'fastify';
import { RULES_BY_PLACE } from '../../../alerts/watch/rules/rules-by-place.ts';
import type { Lab } from '../../../lab/lab.ts';
import { type LabFileContext, labFileContradictions } from '../../../lab/lab-file/lab-file-checks.ts';
import type { Contradiction } from '../../../lab/lab-file/lab-file-problem.ts';
import { LANGUAGE_CODES } from '../../../words/load-languages.ts';
import { saveAudited, type AuditedChange } from './audit-change.ts';
import { fieldOf, HttpProblem } from '../base/problem.ts';
import { refuseOverwrite } from './refuse-overwrite.ts';
import type { ServerContext } from './server-context.ts';

const CONTEXT: LabFileContext = { rules: RULES_BY_PLACE, languages: LANGUAGE_CODES };

/** The same for the same contradiction, wherever in its list the record is. */
const identityOf = (lab: Lab, { path, code, values }: Contradiction): string => {
  const [list, index, ...rest] = path;
  const records: unknown = list === undefined ? undefined : Object(lab)[list];
  const record = Array.isArray(records) && typeof index === 'number' ? Object(records[index]).id : index;
  return JSON.stringify([list, record, ...rest, code, values]);
};

/** What the change would contradict that was not contradicted before. */
export const broughtContradictions = (before: Lab, after: Lab): readonly Contradiction[] => {
  const old = new Set(
    labFileContradictions(before, CONTEXT).map((contradiction) => identityOf(before, contradiction)),
  );
  return labFileContradictions(after, CONTEXT).filter(
    (contradiction) => !old.has(identityOf(after, contradiction)),
  );
};

const refuseContradictions = (before: Lab, after: Lab): void => {
  const found = broughtContradictions(before, after);
  if (found.length === 0) return;
  throw new HttpProblem('lab-contradiction', {
    errors: found.map(({ path, ...problem }) => fieldOf(`/${path.join('/')}`, problem)),
  });
};

export const changeLab = (
  context: ServerContext,
  request: FastifyRequest,
  after: Lab,
  save: () => void,
  change: AuditedChange,
): void => {
  refuseOverwrite(context.audit, request, change);
  refuseContradictions(context.running.lab(), after);
  saveAudited(context, request, save, change);
};
