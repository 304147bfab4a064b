// A pattern was invested, remade or discarded; and the way back from that.

import type { Pattern } from '../../../../lab/pattern.ts';
import { type EpochMillis, epochMillis } from '../../../../wax/units.ts';
import { EndPatternBody, PatternView, ResumePatternBody } from '../../../api/patterns.ts';
import type { App } from '../../base/app.ts';
import { instantOf } from '../../base/instant.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { actorName } from '../../sign-in/actor.ts';
import { actorOf } from '../../sign-in/guard.ts';
import { sayToReader } from '../../sign-in/reader.ts';
import { patternView } from '../../views/pattern-view.ts';
import { answers } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { predictedAt } from './predicted-at.ts';
import {
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
      { params: PatternId, body: EndPatternBody, response: answers(PatternView) },
    ),
    async (request) => {
      const before = waitingPattern(running, request.params.id);
      const { fate, reason } = request.body;
      const asOf = endedAt(before, request.body.at, running.now());
      const at = iso(asOf);
      const by = actorName(actorOf(request));
      const predicted = predictedAt(running, before, asOf);
      const after = {
        ...before,
        stays: endedStays(before, at),
        fate: { kind: fate, at, by, reason },
        ...(predicted !== undefined && { predictedAtInvesting: predicted }),
      };
      const act = { type: 'pattern-ended', pattern: before.id, fate, reason, by } as const;
      await performOnPattern(context, request, act, after);
      return patternView(running, after, sayToReader(request, running));
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
      { params: PatternId, body: ResumePatternBody, response: answers(PatternView) },
    ),
    async (request) => {
      const before = requirePattern(running, request.params.id);
      if (before.fate === null) return patternView(running, before, sayToReader(request, running));
      // It lay there all the while, so its stay goes on and nothing of its heat is left out; one that was away still is.
      const { at: endedAt } = before.fate;
      const stays = before.stays.map((stay, index) =>
        index === before.stays.length - 1 && stay.to === endedAt ? { ...stay, to: null } : stay,
      );
      const { predictedAtInvesting: _, ...waiting } = before;
      const after = { ...waiting, stays, fate: null };
      const by = actorName(actorOf(request));
      const { reason } = request.body;
      const act = { type: 'pattern-resumed', pattern: before.id, reason, by } as const;
      await performOnPattern(context, request, act, after);
      return patternView(running, after, sayToReader(request, running));
    },
  );
};
