// What was measured over a span, in buckets: by a probe, at a station, where a pattern lay.

import { Type } from 'typebox';
import { bucketPlan } from '../../../collector/store/bucket-width.ts';
import type { SeriesBucket } from '../../../collector/store/store.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY, MILLIS_PER_SECOND } from '../../../wax/units.ts';
import { ReadingsView, SeriesView } from '../../api/schemas.ts';
import { Instant } from '../../api/schema-parts.ts';
import type { App } from '../base/app.ts';
import { instantOf } from '../base/instant.ts';
import { fieldProblem, HttpProblem } from '../base/problem.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import type { ServerContext } from '../context/server-context.ts';
import { patternSeries } from '../views/pattern-series.ts';
import { probeView } from '../views/probe-view.ts';
import { stationSeries } from '../../queries/station-series.ts';
import { describeRoute } from './common/describe-route.ts';
import { requirePattern, PatternId } from './patterns/pattern-of-request.ts';
import { requireStation, StationId } from './common/station-of-request.ts';
import { orStoreAway } from './common/store-away.ts';
import { iso } from '../../../wax/iso.ts';

const MOST_POINTS = 5000;
const USUAL_POINTS = 500;
const BUCKETS =
  'Each bucket has the least, the greatest and the mean value in °C and the number of readings, so that an extreme ' +
  'is never lost. A bucket without readings is absent: a gap is a gap.';

const points = Type.Optional(
  Type.Integer({
    minimum: 1,
    maximum: MOST_POINTS,
    default: USUAL_POINTS,
    description: 'At most so many buckets',
  }),
);
const spanFields = {
  from: Type.Optional({ ...Instant, description: 'Start of the span; absent: one day before `to`' }),
  to: Type.Optional({ ...Instant, description: 'End of the span, exclusive; absent: now' }),
  points,
};

interface Span {
  readonly from: EpochMillis;
  readonly to: EpochMillis;
  readonly points: number;
}

const spanOf = (
  running: RunningLab,
  asked: { readonly from?: string; readonly to?: string; readonly points?: number },
): Span => {
  const to = asked.to === undefined ? running.now() : instantOf(asked.to, '/querystring/to');
  const from =
    asked.from === undefined ? epochMillis(to - MILLIS_PER_DAY) : instantOf(asked.from, '/querystring/from');
  if (!(from < to)) throw fieldProblem('/querystring/from', 'field-span-reversed');
  return { from, to, points: asked.points ?? USUAL_POINTS };
};

const seriesView = async (span: Span, asking: Promise<readonly SeriesBucket[]>) => {
  const buckets = await orStoreAway(asking);
  return {
    from: iso(span.from),
    to: iso(span.to),
    bucketSeconds: (bucketPlan(span)?.width ?? span.to - span.from) / MILLIS_PER_SECOND,
    buckets: buckets.map((bucket) => ({ ...bucket, at: iso(bucket.at) })),
  };
};

export const readingRoutes = (app: App, { running }: ServerContext): void => {
  app.get(
    '/api/readings',
    describeRoute('see-wall', 'measuring', 'What a probe measured over a span, in buckets', {
      description: BUCKETS,
      querystring: Type.Object({
        probe: Type.String({ minLength: 1, maxLength: 64, description: 'Id of the probe' }),
        ...spanFields,
      }),
      response: { 200: ReadingsView },
    }),
    async (request) => {
      const { probe } = request.query;
      const span = spanOf(running, request.query);
      if (probeView(running, probe) === null)
        throw new HttpProblem('unknown-probe', { values: { id: probe } });
      return { probe, ...(await seriesView(span, running.store.buckets({ probe, ...span }))) };
    },
  );
  app.get(
    '/api/stations/:id/readings',
    describeRoute(
      'see-wall',
      'measuring',
      'What was measured at a station over a span, its probes together',
      {
        description: `${BUCKETS} Of several probes the hottest mean counts at a heater, the weighted mean elsewhere.`,
        params: StationId,
        querystring: Type.Object(spanFields),
        response: { 200: SeriesView },
      },
    ),
    (request) => {
      const span = spanOf(running, request.query);
      return seriesView(span, stationSeries(running, requireStation(running, request.params.id), span));
    },
  );
  app.get(
    '/api/patterns/:id/readings',
    describeRoute('read', 'patterns', 'What a pattern went through, from the bench to now or its end', {
      description: `${BUCKETS} Put together from the places where it lay, each for as long as it lay there.`,
      params: PatternId,
      querystring: Type.Object({ points }),
      response: { 200: SeriesView },
    }),
    (request) => {
      const pattern = requirePattern(running, request.params.id);
      const from = epochMillis(Date.parse(pattern.madeAt));
      const end = pattern.fate === null ? running.now() : epochMillis(Date.parse(pattern.fate.at));
      const span = {
        from,
        to: epochMillis(Math.max(end, from + 1)),
        points: request.query.points ?? USUAL_POINTS,
      };
      return seriesView(span, patternSeries(running, pattern, span));
    },
  );
};
