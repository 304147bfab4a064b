// One probe in full: its stays and certificates, how it behaves, and what a reading of it was before it was converted.

import { Type } from 'typebox';
import { type Certificate, certificates } from '../../../lab/probes/probe-certificates.ts';
import { type ProbeStay, probeStays } from '../../../lab/probes/probe-stays.ts';
import { type EpochMillis, epochMillis } from '../../../wax/units.ts';
import {
  ProbeBehaviourView,
  ProbeHistoryView,
  ProbeStayView,
  ReadingOriginView,
} from '../../api/probe-detail.ts';
import { Instant } from '../../api/schema-parts.ts';
import { probeBehaviour } from '../../queries/probe-behaviour.ts';
import { staysIn } from '../../queries/probe-places.ts';
import { readingOrigin } from '../../queries/reading-origin.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import type { App } from '../base/app.ts';
import { instantOf } from '../base/instant.ts';
import { fieldProblem, HttpProblem } from '../base/problem.ts';
import type { ServerContext } from '../context/server-context.ts';
import { probeView } from '../views/probe-view.ts';
import { describeRoute } from './common/describe-route.ts';
import { requireStation, StationId } from './common/station-of-request.ts';
import { orStoreAway } from './common/store-away.ts';
import { iso } from '../../../wax/iso.ts';

const MOST_MARKS = 20;
const ProbeId = Type.Object({ id: Type.String({ minLength: 1, maxLength: 64 }) });

const requireProbe = (running: RunningLab, id: string): void => {
  if (probeView(running, id) === null && running.repository.history.probeVersions(id).length === 0)
    throw new HttpProblem('unknown-probe', { values: { id } });
};

const EVER: { readonly from: EpochMillis; readonly to: EpochMillis } = {
  from: epochMillis(0),
  to: epochMillis(Date.UTC(2100, 0, 1)),
};

/** Ends at those of the span are no ends of the stay. */
const stayView =
  (span: typeof EVER) =>
  ({ probe, station, from, to }: ProbeStay): ProbeStayView => ({
    probe,
    station,
    from: from === span.from ? null : iso(epochMillis(from)),
    to: to === span.to ? null : iso(epochMillis(to)),
  });

const certificateView = ({ at, points, ...rest }: Certificate) => ({
  ...rest,
  at: iso(at),
  points: [...points],
});

const behaviourView = (of: Awaited<ReturnType<typeof probeBehaviour>>): ProbeBehaviourView => {
  const { spikes, jumps, ...health } = of.health;
  const newestMarks = <T extends { readonly at: number }>(marks: readonly T[]) =>
    marks.slice(-MOST_MARKS).map((mark) => ({ ...mark, at: iso(epochMillis(mark.at)) }));
  return {
    from: iso(of.from),
    to: iso(of.to),
    isCutOff: of.isCutOff,
    health: {
      ...health,
      spikes: spikes.length,
      newestSpikes: newestMarks(spikes).map(({ at, celsius, expected_celsius }) => ({
        at,
        celsius,
        expected_celsius,
      })),
      jumps: jumps.length,
      newestJumps: newestMarks(jumps),
    },
    twins: [...of.twins],
    drift: of.drift === null ? null : { ...of.drift, fromTwins: [...of.drift.fromTwins] },
  };
};

const probeRoutes = (app: App, { running }: ServerContext): void => {
  app.get(
    '/api/probes/:id/history',
    describeRoute('read', 'measuring', 'Where a probe was, and how it was calibrated over time', {
      params: ProbeId,
      response: { 200: ProbeHistoryView },
    }),
    (request) => {
      const { id } = request.params;
      requireProbe(running, id);
      const { history } = running.repository;
      return {
        id,
        stays: probeStays(history.probePeriods(EVER.from, EVER.to))
          .filter(({ probe }) => probe === id)
          .map(stayView(EVER)),
        certificates: certificates(history.probeVersions(id)).map(certificateView),
      };
    },
  );
  app.get(
    '/api/probes/:id/behaviour',
    describeRoute('read', 'measuring', 'How a probe behaved in the last day', {
      description:
        'How often it measured, how long it rested on one value, its scatter, readings that stand out and jumps of its ' +
        'level (marked, never deleted), its difference from the other probes of its station, and its drift against a day.',
      params: ProbeId,
      querystring: Type.Object({
        reference: Type.Optional(
          Type.String({
            format: 'date',
            description: 'The day to compare with; absent: that of the newest calibration',
          }),
        ),
      }),
      response: { 200: ProbeBehaviourView },
    }),
    async (request) => {
      const { id } = request.params;
      requireProbe(running, id);
      return behaviourView(await orStoreAway(probeBehaviour(running, id, request.query.reference ?? null)));
    },
  );
};

const originRoute = (app: App, { running }: ServerContext): void => {
  app.get(
    '/api/probes/:id/origin',
    describeRoute('read', 'measuring', 'What came in where a reading is stored', {
      description:
        'Of the newest reading not later than `at`, within a day: the correction that held then is taken off, and the ' +
        'function of the sensor inverted. A reading that arrived after the correction had changed was corrected by the newer one.',
      params: ProbeId,
      querystring: Type.Object({ at: Type.Optional(Instant) }),
      response: { 200: ReadingOriginView },
    }),
    async (request) => {
      const { id } = request.params;
      requireProbe(running, id);
      const { at } = request.query;
      const instant = at === undefined ? running.now() : instantOf(at, '/querystring/at');
      const origin = await orStoreAway(readingOrigin(running, id, instant));
      if (origin === null) throw fieldProblem('/querystring/at', 'no-reading-then');
      const { reading, probe, measured_celsius, electrical, coldJunction_celsius } = origin;
      return {
        at: iso(reading.at),
        celsius: reading.celsius,
        quality: reading.quality,
        correction:
          probe === null
            ? null
            : {
                correction_celsius: probe.calibration === undefined ? probe.correction_celsius : null,
                calibrationDay: probe.calibration?.day ?? null,
                uncertainty_celsius: probe.uncertainty_celsius,
              },
        measured_celsius,
        sensor: probe?.sensor?.kind ?? null,
        electrical,
        coldJunction_celsius,
      };
    },
  );
};

const stationProbesRoute = (app: App, { running }: ServerContext): void => {
  app.get(
    '/api/stations/:id/probes',
    describeRoute('see-wall', 'measuring', 'Which probes were at a station over a span', {
      description:
        'Those that were swapped, retired or forgotten meanwhile included; null where it was there before or after the span.',
      params: StationId,
      querystring: Type.Object({ from: Instant, to: Instant }),
      response: { 200: Type.Array(ProbeStayView) },
    }),
    (request) => {
      const { id } = requireStation(running, request.params.id);
      const from = instantOf(request.query.from, '/querystring/from');
      const to = instantOf(request.query.to, '/querystring/to');
      if (!(from < to)) throw fieldProblem('/querystring/from', 'field-span-reversed');
      return staysIn(running, id, { from, to }).map(stayView({ from, to }));
    },
  );
};

export const probeDetailRoutes = (app: App, context: ServerContext): void => {
  probeRoutes(app, context);
  originRoute(app, context);
  stationProbesRoute(app, context);
};
