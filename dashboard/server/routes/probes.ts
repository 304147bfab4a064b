// Probes, claimed and unclaimed, and their readings.

import { Type } from 'typebox';
import { bucketPlan } from '../../../collector/store/bucket-width.ts';
import { StoreAway } from '../../../collector/store/store.ts';
import { epochMillis, MILLIS_PER_DAY, MILLIS_PER_SECOND } from '../../../wax/units.ts';
import { Instant, ProbeView, ReadingsView } from '../../api/schemas.ts';
import type { App } from '../app.ts';
import { instantOf, iso } from '../instant.ts';
import { HttpProblem } from '../problem.ts';
import type { ServerContext } from '../server-context.ts';
import { probeView, probeViews } from '../views/probe-view.ts';
import { answers } from './answers.ts';

const MOST_POINTS = 5000;

export const ReadingsQuery = Type.Object({
  probe: Type.String({ minLength: 1, maxLength: 64, description: 'Id of the probe' }),
  from: Type.Optional({ ...Instant, description: 'Start of the span; absent: one day before `to`' }),
  to: Type.Optional({ ...Instant, description: 'End of the span, exclusive; absent: now' }),
  points: Type.Optional(
    Type.Integer({ minimum: 1, maximum: MOST_POINTS, default: 500, description: 'At most so many buckets' }),
  ),
});

export const probeRoutes = (app: App, { running }: ServerContext): void => {
  app.get(
    '/api/probes',
    {
      config: { needs: 'read' },
      schema: {
        tags: ['measuring'],
        summary: 'Every probe that was ever heard or entered',
        description: 'A probe heard for the first time has `claimed: false` until it is given to a station.',
        response: answers(Type.Array(ProbeView)),
      },
    },
    () => [...probeViews(running)],
  );
  app.get(
    '/api/readings',
    {
      config: { needs: 'see-wall' },
      schema: {
        tags: ['measuring'],
        summary: 'What a probe measured over a span, in buckets',
        description:
          'Each bucket has the least, the greatest and the mean value in °C and the number of readings, so that an ' +
          'extreme is never lost. A bucket without readings is absent: a gap is a gap.',
        querystring: ReadingsQuery,
        response: answers(ReadingsView),
      },
    },
    async (request) => {
      const { probe, points = 500 } = request.query;
      const to =
        request.query.to === undefined ? running.now() : instantOf(request.query.to, '/querystring/to');
      const from =
        request.query.from === undefined
          ? epochMillis(to - MILLIS_PER_DAY)
          : instantOf(request.query.from, '/querystring/from');
      if (!(from < to))
        throw new HttpProblem('wrong-request', '`from` must lie before `to`.', {
          errors: [{ pointer: '/querystring/from', detail: 'is not before `to`' }],
        });
      if (probeView(running, probe) === null)
        throw new HttpProblem(
          'unknown-probe',
          `No probe "${probe}" was ever heard; /api/probes lists those that were.`,
        );
      const buckets = await running.store.buckets({ probe, from, to, points }).catch((cause: unknown) => {
        if (!(cause instanceof StoreAway)) throw cause;
        throw new HttpProblem(
          'store-unavailable',
          'Try again shortly; measuring and alarms go on meanwhile.',
          {
            headers: { 'retry-after': '5' },
          },
        );
      });
      return {
        probe,
        from: iso(from),
        to: iso(to),
        bucketSeconds: (bucketPlan({ from, to, points })?.width ?? to - from) / MILLIS_PER_SECOND,
        buckets: buckets.map((bucket) => ({ ...bucket, at: iso(bucket.at) })),
      };
    },
  );
};
