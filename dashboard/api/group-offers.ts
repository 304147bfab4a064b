// What the group offers the lab, and what would change here by it.

import { type Static, Type } from 'typebox';
import { OFFER_ANSWERS } from '../../lab/group/group-message.ts';
import { closed, Instant, Nullable } from './schema-parts.ts';

const lot = { maker: Type.String(), lot: Type.String() };
const Own = Type.Union([Type.Number(), Type.Boolean()]);

const OfferChangeView = Type.Union([
  Type.Object({
    kind: Type.Literal('wax-value'),
    wax: Type.String(),
    name: Type.String({ description: 'Dotted name of the value; °C unless the name says otherwise' }),
    before: Type.Number(),
    after: Type.Number(),
  }),
  Type.Object({
    kind: Type.Literal('rule-figure'),
    station: Nullable(Type.String({ description: 'Name of the station; null: the whole lab' })),
    rule: Type.String(),
    figure: Type.String({ description: '`enabled`: whether the rule is switched on' }),
    unit: Nullable(Type.String()),
    before: Own,
    after: Own,
  }),
  Type.Object({ kind: Type.Literal('lot-added'), ...lot, wax: Type.String() }),
  Type.Object({
    kind: Type.Literal('lot-expiry'),
    ...lot,
    before: Nullable(Type.String()),
    after: Type.String(),
  }),
  Type.Object({
    kind: Type.Literal('lot-value'),
    ...lot,
    wax: Type.String(),
    name: Type.String(),
    before: Nullable(Type.Number()),
    after: Type.Number(),
  }),
]);
export type OfferChangeView = Static<typeof OfferChangeView>;

export const GroupOfferView = Type.Object({
  id: Type.String(),
  note: Type.String(),
  by: Type.String({ description: 'Who offers it' }),
  offeredAt: Instant,
  state: Type.Enum(['open', ...OFFER_ANSWERS]),
  answeredAt: Nullable(Instant),
  answeredBy: Nullable(Type.String()),
  changes: Type.Array(OfferChangeView, {
    description: 'Of an open offer: what it would change as the lab is now',
  }),
  problems: Type.Array(Type.String(), {
    description: 'Why it cannot be accepted as the lab is now, in the language of the reader',
  }),
  concernsHeat: Type.Boolean({
    description: 'Wax may become hotter by it, or a heater be watched in another way',
  }),
});
export type GroupOfferView = Static<typeof GroupOfferView>;

export const OfferAnswerBody = Type.Object(
  {
    reason: Type.Optional(
      Type.String({ maxLength: 500, description: 'Why; stays in the audit trail of the lab' }),
    ),
  },
  closed,
);
export type OfferAnswerBody = Static<typeof OfferAnswerBody>;
