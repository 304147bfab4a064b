// What people mean a station to do for a while: entered with one tap, taken back with another.

import { IntentBody } from '../../../api/patterns.ts';
import { intentUntil } from '../../../../lab/intent.ts';
import { INTENT_KINDS } from '../../../../lab/intent-kind.ts';
import { epochMillis } from '../../../../wax/units.ts';
import { Type } from 'typebox';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { DONE, Done } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { requireStation, StationId } from '../common/station-of-request.ts';
import { performAtStation } from './pot.ts';

export const intents = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.post(
    '/api/stations/:id/intents',
    describeRoute('tend-stations', 'charges', 'Record what the station is meant to do for a while', {
      description:
        'One of each kind at a station; a newer one takes its place. `preheat-at` and `staying-late-until` need a time at ' +
        'most 36 hours ahead; the others end by themselves: `off-today` at midnight, `leave-on-overnight` at the opening ' +
        'after the next night, `topping-up` after 30 minutes, `cleaning` after 90, `probe-out` after 4 hours. No alarm ' +
        'of danger hides behind an intent.',
      params: StationId,
      body: IntentBody,
      response: { 200: Done },
    }),
    async (request) => {
      const station = requireStation(running, request.params.id);
      const { kind, until: asked } = request.body;
      const askedAt = asked === undefined ? null : epochMillis(Date.parse(asked));
      const until = intentUntil(kind, running.lab().site, running.now(), askedAt);
      if (until === null) throw new HttpProblem('intent-time');
      await performAtStation(context, request, station.id, { type: 'intent', kind, until });
      return DONE;
    },
  );
  app.delete(
    '/api/stations/:id/intents/:kind',
    describeRoute('tend-stations', 'charges', 'Take back what the station was meant to do', {
      description:
        'For what was a slip, or is over early: `probe-out` is taken back when the probe is in its place again.',
      params: Type.Object({ id: Type.String(), kind: Type.Enum([...INTENT_KINDS]) }),
      response: { 200: Done },
    }),
    async (request) => {
      const station = requireStation(running, request.params.id);
      await performAtStation(context, request, station.id, {
        type: 'intent-ended',
        kind: request.params.kind,
      });
      return DONE;
    },
  );
};
