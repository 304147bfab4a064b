// What was done to a pattern at the bench: seated, taken off, chilled, resealed, sent and so on; and the way back.

import type { LifeAct, Pattern } from '../../../../lab/pattern.ts';
import { ACTS_AFTER_INVESTING, ACTS_BEFORE_INVESTING } from '../../../../lab/pattern.ts';
import { staysWithAct, staysWithoutAct } from '../../../../lab/patterns/pattern-stays.ts';
import { type EpochMillis, epochMillis } from '../../../../wax/units.ts';
import { LifeActBody, PatternView, UndoLifeActBody } from '../../../api/patterns.ts';
import type { Static } from 'typebox';
import type { App } from '../../base/app.ts';
import { instantOf } from '../../base/instant.ts';
import { fieldProblem, HttpProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { authorOf } from '../../sign-in/guard.ts';
import { shortId } from '../../sign-in/secret.ts';
import { describeRoute } from '../common/describe-route.ts';
import { predictFit } from './predict-fit.ts';
import {
  answerPattern,
  requirePattern,
  requireStorage,
  PatternId,
  performOnPattern,
} from './pattern-of-request.ts';
import { iso } from '../../../../wax/iso.ts';

const ID_LENGTH = 8;

const isAllowed = ({ fate }: Pattern, kind: LifeAct['kind']): boolean => {
  const allowed: readonly string[] =
    fate === null ? ACTS_BEFORE_INVESTING : fate.kind === 'invested' ? ACTS_AFTER_INVESTING : [];
  return allowed.includes(kind);
};

/** Since it was made, and not in the future. */
const doneAt = (pattern: Pattern, asked: string | undefined, now: EpochMillis): EpochMillis => {
  if (asked === undefined) return now;
  const at = instantOf(asked, '/body/at');
  if (at > now) throw fieldProblem('/body/at', 'field-in-the-future');
  return epochMillis(Math.max(at, Date.parse(pattern.madeAt)));
};

const lifeActOf = (
  { kind, gapMicrometres, origin, softening, celsius }: Static<typeof LifeActBody>,
  at: EpochMillis,
  now: EpochMillis,
  by: string,
): LifeAct => ({
  id: shortId(ID_LENGTH),
  kind,
  at: iso(at),
  recordedAt: iso(now),
  by,
  ...(origin !== undefined && { origin }),
  ...(softening !== undefined && { softening }),
  ...(celsius !== undefined && { celsius }),
  ...(kind === 'seated' && { gap_micrometres: gapMicrometres ?? 0 }),
});

export const recordLifeAct = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.post(
    '/api/patterns/:id/acts',
    describeRoute('tend-patterns', 'patterns', 'Record what was done to a pattern at the bench', {
      description:
        'Now or earlier. After it was invested: `burned-out`, `cast`, `processed` and `seated`. Resealing margins on the die and `seated` establish its fit anew.',
      params: PatternId,
      body: LifeActBody,
      response: { 200: PatternView },
    }),
    async (request) => {
      const { body } = request;
      const before = requirePattern(running, request.params.id);
      if (!isAllowed(before, body.kind))
        throw new HttpProblem('act-out-of-turn', { values: { id: before.id } });
      const station = body.station === undefined ? undefined : requireStorage(running, body.station);
      const now = running.now();
      const asOf = doneAt(before, body.at, now);
      const predicted = body.kind === 'seated' ? predictFit(running, before, asOf) : undefined;
      const done = {
        ...lifeActOf(body, asOf, now, authorOf(request)),
        ...(predicted !== undefined && { predicted }),
      };
      const acts = [...(before.acts ?? []), done].toSorted(
        (first, second) => Date.parse(first.at) - Date.parse(second.at),
      );
      const after = {
        ...before,
        acts,
        stays: before.fate === null ? staysWithAct(before, done, station) : before.stays,
      };
      const { id, kind } = done;
      const at = epochMillis(Date.parse(done.at));
      return performOnPattern(context, request, { type: 'pattern-act', kind, id, at }, after);
    },
  );
};

export const undoLifeAct = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.post(
    '/api/patterns/:id/acts/undo',
    describeRoute('tend-patterns', 'patterns', 'Undo what was entered by mistake', {
      description: 'The act counts as never done; the audit trail keeps both.',
      params: PatternId,
      body: UndoLifeActBody,
      response: { 200: PatternView },
    }),
    async (request) => {
      const before = requirePattern(running, request.params.id);
      const undone = before.acts?.find(({ id }) => id === request.body.id);
      // Undone already, by this phone before or by another.
      if (undone === undefined) return answerPattern(context, request, before);
      const acts = (before.acts ?? []).filter(({ id }) => id !== undone.id);
      const after = {
        ...before,
        acts,
        stays: before.fate === null ? staysWithoutAct(before, undone) : before.stays,
      };
      const { id, kind } = undone;
      return performOnPattern(context, request, { type: 'pattern-act-undone', kind, id }, after);
    },
  );
};

export const eraseCase = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.post(
    '/api/patterns/:id/erase-case',
    describeRoute('tend-patterns', 'patterns', 'Erase the case reference of a pattern', {
      description: 'For good; its short id stays. The audit trail never holds the reference.',
      params: PatternId,
      response: { 200: PatternView },
    }),
    async (request) => {
      const before = requirePattern(running, request.params.id);
      const after = { ...before, caseReference: '' };
      return performOnPattern(context, request, { type: 'pattern-case-erased' }, after);
    },
  );
};
