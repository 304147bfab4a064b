// What a group offers a lab, as schemas and types at once: figures and lots of wax that count for nothing until a manager
// of the lab accepts them there. All that is open travels as one retained message a lab, on a topic that only the group
// may write. Described in docs/group.md.

import { type Static, Type } from 'typebox';
import { Value } from 'typebox/value';
import { GROUP_MESSAGE_VERSION, Figures, Id, Instant, lineOf, OfferedLot } from './group-message-parts.ts';
import { hasInvisibleSigns } from '../visible-text.ts';

/** Of one lab at a time; further offers wait for answers. */
export const MOST_OPEN_OFFERS = 50;
const MOST_ITEMS_OF_AN_OFFER = 50;
export const OFFERS_MOST_BYTES = 1024 * 1024;

/** Below a root of its own: what labs may write never reaches it, and the group does not take it for a report. */
export const offersTopic = (site: string): string => `wax-group-offers/${site}`;

const WaxValuesItem = Type.Object({ kind: Type.Literal('wax-values'), wax: Id, values: Figures.wax });
const RuleFiguresItem = Type.Object({
  kind: Type.Literal('rule-figures'),
  place: Type.String({ maxLength: 40, description: 'a kind of station: every station of it; or `lab`' }),
  rule: Id,
  figures: Figures.ofOneRule,
});
const LotItem = Type.Object({ kind: Type.Literal('lot'), ...OfferedLot.properties });
export const OfferItem = Type.Union([WaxValuesItem, RuleFiguresItem, LotItem]);
export type OfferItem = Static<typeof OfferItem>;
export type OfferItemOf<Kind extends OfferItem['kind']> = Extract<OfferItem, { readonly kind: Kind }>;

const OfferSchema = Type.Object({
  id: Type.String({ pattern: '^[a-z0-9]{8,12}$' }),
  note: Type.String({ maxLength: 1000, description: 'why, in the words of who offers it' }),
  by: lineOf(200),
  offered_at: Instant,
  items: Type.Array(OfferItem, { minItems: 1, maxItems: MOST_ITEMS_OF_AN_OFFER }),
});
export type Offer = Static<typeof OfferSchema>;

/** Every open offer of one lab. One that is no longer in it was taken back or has been answered. */
const OffersMessage = Type.Object({
  version: Type.Literal(GROUP_MESSAGE_VERSION),
  site: Id,
  sent_at: Instant,
  offers: Type.Array(Type.Unknown(), { maxItems: MOST_OPEN_OFFERS }),
});

export const offersMessage = (site: string, at: number, offers: readonly Offer[]) => ({
  version: GROUP_MESSAGE_VERSION as 1,
  site,
  sent_at: new Date(at).toISOString(),
  offers,
});

export const isOfferItem = (value: unknown): value is OfferItem => Value.Check(OfferItem, value);

export interface ReceivedOffers {
  readonly offers: readonly Offer[];
  /** Those of a newer version, or of no form at all. */
  readonly refused: number;
}

const isOffer = (value: unknown): value is Offer =>
  Value.Check(OfferSchema, value) && !hasInvisibleSigns(value.note);

/** Null for what is no message of this lab's group. */
export function readOffers(payload: Uint8Array, site: string): ReceivedOffers | null {
  if (payload.length > OFFERS_MOST_BYTES) return null;
  let body: unknown;
  try {
    body = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(payload));
  } catch {
    return null;
  }
  if (!Value.Check(OffersMessage, body) || body.site !== site) return null;
  const offers = body.offers.filter(isOffer);
  return {
    offers: offers.map((offer) => Value.Clean(OfferSchema, offer) as Offer),
    refused: body.offers.length - offers.length,
  };
}
