// Charges and their heat dose as they cross the wire.

import { type Static, Type } from 'typebox';
import { LotId, LotShareView, Reason, Wax } from './lots-of-wax.ts';
import { closed, Instant, Nullable } from './schema-parts.ts';

export const ChargeView = Type.Object({
  id: Type.String(),
  station: Type.String(),
  stationName: Type.String(),
  wax: Type.Object({ id: Type.String(), name: Type.String() }),
  grams: Type.Number(),
  startedAt: Instant,
  lot: Nullable(Type.String({ description: 'Id of the lot that it was filled with; null: not recorded' })),
  topUps: Type.Array(
    Type.Object({
      at: Instant,
      fraction: Type.Number(),
      by: Type.String(),
      lot: Nullable(Type.String({ description: 'Id of the lot of the fresh wax; null: not recorded' })),
    }),
  ),
  lots: Type.Array(LotShareView, { description: 'Lots in the charge, greatest share first' }),
  ages: Type.Array(
    Type.Object({
      fromDays: Type.Number({ description: 'Days in the pot, up to the next younger group' }),
      share: Type.Number(),
    }),
    { description: 'Shares of the wax by age, oldest first; at its end for one that ended' },
  ),
  cleanedAt: Nullable(Instant),
  endedAt: Nullable(Instant),
  takenBack: Nullable(
    Type.Object(
      { by: Type.String(), reason: Type.String() },
      { description: 'It was entered by mistake and was never in the pot' },
    ),
  ),
  newestAct: Nullable(
    Type.Object(
      {
        id: Type.String(),
        kind: Type.Union([Type.Literal('charge-changed'), Type.Literal('topped-up')]),
        at: Instant,
        until: Instant,
      },
      { description: 'What can be taken back, and until when' },
    ),
  ),
  /** Of the charge that is in the pot now; null for ended ones. */
  doseShare: Nullable(Type.Number({ description: 'Heat dose over its allowance' })),
  doseEquivalentHours: Nullable(Type.Number()),
});
export type ChargeView = Static<typeof ChargeView>;

export const DoseCurveView = Type.Object({
  allowanceEquivalentHours: Type.Number(),
  allowanceStanding: Type.String(),
  curve: Type.Array(Type.Object({ at: Instant, hours: Type.Number() })),
  spentAt: Nullable({ ...Instant, description: 'At its usual hours; null: unknown, or not within a year' }),
  cooler: Nullable(
    Type.Object(
      { celsius: Type.Number(), share: Type.Number() },
      { description: 'Share of the dose that a pot cooler by so much saves, within its window' },
    ),
  ),
  outsideHours: Nullable(Type.Number({ description: "Share of the last week's dose outside working hours" })),
});
export type DoseCurveView = Static<typeof DoseCurveView>;

const DoneAt = Type.Optional({
  ...Instant,
  description: 'When it was done, for what is sent later: at most 24 hours ago. Absent: now',
});
export const ChangeChargeBody = Type.Object(
  {
    wax: Wax,
    grams: Type.Number({ exclusiveMinimum: 0, maximum: 20_000 }),
    lot: Type.Optional({ ...LotId, description: 'Id of the lot that it was filled with' }),
    at: DoneAt,
    reason: Type.Optional(Reason),
  },
  closed,
);
export const TopUpBody = Type.Object(
  {
    grams: Type.Number({ exclusiveMinimum: 0, maximum: 20_000, description: 'Fresh wax that was added' }),
    lot: Type.Optional({ ...LotId, description: 'Id of the lot of the fresh wax' }),
    at: DoneAt,
  },
  closed,
);
export const ChargeLotBody = Type.Object(
  {
    lot: Nullable({ ...LotId, description: 'Id of the lot; null: not recorded' }),
    toppedUpAt: Type.Optional({
      ...Instant,
      description: 'Of the top-up of this instant. Absent: of the filling',
    }),
  },
  closed,
);
export const TakeBackBody = Type.Object(
  {
    id: Type.String({ minLength: 1, maxLength: 60, description: '`newestAct.id` of the charge' }),
    reason: Reason,
  },
  closed,
);
