// One probe in full, as it crosses the wire: where it was, how it was calibrated, how it behaves, what a reading was.

import { type Static, Type } from 'typebox';
import { closed, Instant, Nullable } from './schema-parts.ts';

const Day = Type.String({ format: 'date', description: 'a day as YYYY-MM-DD' });
const Degrees = Type.Number({ description: '°C' });
const Difference = Type.Number({ description: 'K' });

export const ProbeStayView = Type.Object({
  probe: Type.String(),
  station: Type.String(),
  from: Nullable(Instant),
  to: Nullable(Instant),
});
export type ProbeStayView = Static<typeof ProbeStayView>;

const CertificateView = Type.Object({
  at: Instant,
  day: Nullable(Day),
  reference: Nullable(Type.String()),
  referenceUncertainty_celsius: Nullable(Difference),
  uncertainty_celsius: Difference,
  due: Nullable(Day),
  correctionBefore_celsius: Nullable(Difference),
  correctionAfter_celsius: Nullable(Difference),
  points: Type.Array(
    Type.Object({
      reading_celsius: Degrees,
      reference_celsius: Degrees,
      foundError_celsius: Difference,
      leftError_celsius: Difference,
    }),
  ),
});
export type CertificateView = Static<typeof CertificateView>;

export const ProbeHistoryView = Type.Object({
  id: Type.String(),
  stays: Type.Array(ProbeStayView, { description: 'Oldest first; `from` null: since its first reading' }),
  certificates: Type.Array(CertificateView, {
    description:
      'Newest first. Errors are the corrected reading minus the reference: as found by the calibration before, as left by this one',
  }),
});
export type ProbeHistoryView = Static<typeof ProbeHistoryView>;

export const ProbeBehaviourView = Type.Object({
  from: Instant,
  to: Instant,
  isCutOff: Type.Boolean({ description: 'More was measured than is looked at' }),
  health: Type.Object({
    readings: Type.Integer(),
    interval_seconds: Nullable(Type.Number()),
    longestGap_seconds: Nullable(Type.Number()),
    longestSame_seconds: Nullable(Type.Number()),
    noise_celsius: Nullable(Difference),
    spikes: Type.Integer(),
    newestSpikes: Type.Array(Type.Object({ at: Instant, celsius: Degrees, expected_celsius: Degrees }), {
      description: 'At most twenty; they are marked here and stay as they are',
    }),
    jumps: Type.Integer(),
    newestJumps: Type.Array(Type.Object({ at: Instant, from_celsius: Degrees, to_celsius: Degrees })),
  }),
  twins: Type.Array(
    Type.Object({
      probe: Type.String(),
      meanDifference_celsius: Difference,
      greatestDifference_celsius: Difference,
      allowed_celsius: Difference,
    }),
    { description: 'Other probes of the station; own minus theirs, in means of five minutes' },
  ),
  drift: Nullable(
    Type.Object({
      day: Day,
      then_celsius: Nullable(Degrees),
      now_celsius: Nullable(Degrees),
      fromTwins: Type.Array(Type.Object({ probe: Type.String(), change_celsius: Difference })),
    }),
  ),
});
export type ProbeBehaviourView = Static<typeof ProbeBehaviourView>;

export const ReadingOriginView = Type.Object({
  at: Instant,
  celsius: Degrees,
  quality: Type.String(),
  /** What held at that time; null where the probe was not described. */
  correction: Nullable(
    Type.Object({
      correction_celsius: Nullable(Difference),
      calibrationDay: Nullable(Day),
      uncertainty_celsius: Difference,
    }),
  ),
  measured_celsius: Type.Number({ description: '°C before the correction' }),
  sensor: Nullable(Type.String({ description: 'Kind of the bare sensor' })),
  electrical: Nullable(Type.Object({ unit: Type.String(), value: Type.Number() })),
  coldJunction_celsius: Nullable(Degrees),
});
export type ReadingOriginView = Static<typeof ReadingOriginView>;

export const ReplacementBody = Type.Object(
  {
    by: Type.String({ pattern: '^[A-Za-z0-9._-]{1,64}$', description: 'id of a probe without a station' }),
    reason: Type.Optional(Type.String({ maxLength: 500, description: 'Why; kept in the audit trail' })),
  },
  closed,
);

export const ForgottenView = Type.Object({ forgotten: Type.Array(Type.String()) });
