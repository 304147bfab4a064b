// A pattern lies somewhere else now.

import type { Pattern } from '../../../../lab/pattern.ts';
import { type EpochMillis, epochMillis } from '../../../../wax/units.ts';
import { MovePatternBody, PatternView } from '../../../api/patterns.ts';
import type { App } from '../../base/app.ts';
import { instantOf } from '../../base/instant.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { describeRoute } from '../common/describe-route.ts';
import {
  answerPattern,
  endedStays,
  requireStorage,
  PatternId,
  performOnPattern,
  waitingPattern,
} from './pattern-of-request.ts';
import { iso } from '../../../../wax/iso.ts';

/** Not before it was laid where it lies, or left, and not in the future. */
const movedAt = (pattern: Pattern, asked: string | undefined, now: EpochMillis): EpochMillis => {
  if (asked === undefined) return now;
  const last = pattern.stays.at(-1);
  const laid = Date.parse(last?.to ?? last?.from ?? pattern.madeAt);
  return epochMillis(Math.min(now, Math.max(laid, instantOf(asked, '/body/at'))));
};

export const movePattern = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.post(
    '/api/patterns/:id/move',
    describeRoute('tend-patterns', 'patterns', 'Record that a pattern lies somewhere else now', {
      params: PatternId,
      body: MovePatternBody,
      response: { 200: PatternView },
    }),
    async (request) => {
      const before = waitingPattern(running, request.params.id);
      const station = requireStorage(running, request.body.station);
      const last = before.stays.at(-1);
      // One that was away lies nowhere until it is laid somewhere again.
      if (last?.station === station && last.to === null) return answerPattern(context, request, before);
      const at = iso(movedAt(before, request.body.at, running.now()));
      const after = { ...before, stays: [...endedStays(before, at), { station, from: at, to: null }] };
      return performOnPattern(context, request, { type: 'pattern-moved', station }, after);
    },
  );
};
