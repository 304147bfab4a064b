// The pattern that a request is about, and the place where it lies.

import { Type } from 'typebox';
import type { FastifyRequest } from 'fastify';
import type { PatternAct } from '../../../../lab/act.ts';
import type { Pattern } from '../../../../lab/pattern.ts';
import { stores } from '../../../../lab/station-kinds.ts';
import type { PatternView } from '../../../api/patterns.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import { HttpProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { authorOf } from '../../sign-in/guard.ts';
import { sayToReader } from '../../sign-in/reader.ts';
import { patternView } from '../../views/pattern-view.ts';
import { type ActWithout, perform } from '../common/act.ts';
import { requireStation } from '../common/station-of-request.ts';

export const PatternId = Type.Object({
  id: Type.String({ maxLength: 20, description: 'Short id of the pattern' }),
});

export const requirePattern = ({ repository }: RunningLab, id: string): Pattern => {
  const pattern = repository.findPattern(id.toUpperCase());
  if (pattern === undefined) throw new HttpProblem('unknown-pattern', { values: { id } });
  return pattern;
};

export const waitingPattern = (running: RunningLab, id: string): Pattern => {
  const pattern = requirePattern(running, id);
  if (pattern.fate === null) return pattern;
  throw new HttpProblem('pattern-ended', { values: { id: pattern.id, fate: pattern.fate.kind } });
};

/** Id of a station where patterns can lie. */
export const requireStorage = (running: RunningLab, id: string): string => {
  const station = requireStation(running, id);
  if (stores(station.kind)) return station.id;
  throw new HttpProblem('not-a-storage-place', { values: { station: station.name } });
};

/** The stays of the pattern with the last one ended. */
export const endedStays = ({ stays }: Pattern, at: string): Pattern['stays'] =>
  stays.map((stay) => (stay.to === null ? { ...stay, to: at } : stay));

/** What cannot be erased must not hold what can: in the trail the pattern has its id alone. */
const withoutCase = (pattern: Pattern | undefined): unknown => {
  if (pattern === undefined) return null;
  const { caseReference: _, ...facts } = pattern;
  return facts;
};

export const answerPattern = (
  { running }: ServerContext,
  request: FastifyRequest,
  pattern: Pattern,
): PatternView => patternView(running, pattern, sayToReader(request, running));

/** Journals the act, saves the pattern as it is after it, and returns it. */
export const performOnPattern = async (
  context: ServerContext,
  request: FastifyRequest,
  act: ActWithout<PatternAct, 'pattern' | 'by'>,
  after: Pattern,
): Promise<PatternView> => {
  const { running } = context;
  await perform(
    context,
    request,
    { pattern: after.id, by: authorOf(request), ...act } as PatternAct,
    () => withoutCase(running.repository.findPattern(after.id)),
    () => running.repository.savePattern(after),
  );
  return answerPattern(context, request, after);
};
