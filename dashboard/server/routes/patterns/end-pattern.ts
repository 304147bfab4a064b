// A pattern was invested, remade or discarded; and the way back from that.

import type { Pattern } from '../../../../lab/pattern.ts';
import { type EpochMillis, epochMillis } from '../../../../wax/units.ts';
import { EndPatternBody, PatternView, ResumePatternBody } from '../../../api/patterns.ts';
import type { App } from '../../base/app.ts';
import { instantOf } from '../../base/instant.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { authorOf } from '../../sign-in/guard.ts';
import { describeRoute } from '../common/describe-route.ts';
import { predictFit } from './predict-fit.ts';
import {
  answerPattern,
  endedStays,
  requirePattern,
  PatternId,
  performOnPattern,
  waitingPattern,
} from './pattern-of-request.ts';
import { iso } from '../../../../wax/iso.ts';

/** Not before it was laid where it lies, not in the future. */
const endedAt = ({ stays, madeAt }: Pattern, asked: string | undefined, now: EpochMillis): EpochMillis => {
  if (asked === undefined) return now;
  const laid = Date.parse(stays.at(-1)?.from ?? madeAt);
  return epochMillis(Math.min(now, Math.max(laid, instantOf(asked, '/body/at'))));
};

export const endPattern = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.post(
    '/api/patterns/:id/end',
    describeRoute(
      'tend-patterns',
      'patterns',
      'Record that a pattern was invested, remade or discarded, and why',
      { params: PatternId, body: EndPatternBody, response: { 200: PatternView } },
    ),
    async (request) => {
      const before = waitingPattern(running, request.params.id);
      const { fate, reason } = request.body;
      const asOf = endedAt(before, request.body.at, running.now());
      const at = iso(asOf);
      const predicted = predictFit(running, before, asOf);
      const after = {
        ...before,
        stays: endedStays(before, at),
        fate: { kind: fate, at, by: authorOf(request), reason },
        ...(predicted !== undefined && { predictedAtInvesting: predicted }),
      };
      return performOnPattern(context, request, { type: 'pattern-ended', fate, reason }, after);
    },
  );
};

export const resumePattern = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.post(
    '/api/patterns/:id/resume',
    describeRoute(
      'tend-patterns',
      'patterns',
      'Take back that a pattern ended: it waits again where it lay',
      { params: PatternId, body: ResumePatternBody, response: { 200: PatternView } },
    ),
    async (request) => {
      const before = requirePattern(running, request.params.id);
      if (before.fate === null) return answerPattern(context, request, before);
      // It lay there all the while, so its stay goes on and nothing of its heat is left out; one that was away still is.
      const { at: endedAt } = before.fate;
      const stays = before.stays.map((stay, index) =>
        index === before.stays.length - 1 && stay.to === endedAt ? { ...stay, to: null } : stay,
      );
      const { predictedAtInvesting: _, ...waiting } = before;
      const after = { ...waiting, stays, fate: null };
      const { reason } = request.body;
      return performOnPattern(context, request, { type: 'pattern-resumed', reason }, after);
    },
  );
};
