// What an offer of the group would change in a lab, and the lab afterwards. Pure; the group calls it on what a lab has
// reported, the lab on itself. An offer holds what shall be: what holds already is no change.

import { findWaxClassId, type WaxClassId } from '../../wax/classes/wax-class-id.ts';
import { ownEntry } from '../../wax/own-entry.ts';
import { waxValueAt } from '../../wax/wax-class.ts';
import type { Offer, OfferItem, OfferItemOf } from './group-offer.ts';
import type { Lab, Site } from '../lab.ts';
import { labsWaxClass } from '../limits.ts';
import type { RulesByPlace } from '../lab-file/own-figure-checks.ts';
import type { OwnFigures } from '../own-figures.ts';
import type { Station } from '../station.ts';
import type { WaxLot } from '../wax-lot.ts';

export type DescribedLot = Pick<WaxLot, 'wax' | 'maker' | 'lot' | 'expiresOn' | 'sheetValues'>;

/** As much of a lab as an offer can change. */
export interface OfferTarget {
  readonly site: Pick<Site, 'rules'>;
  readonly stations: readonly Pick<Station, 'id' | 'name' | 'kind' | 'rules'>[];
  readonly lots?: readonly DescribedLot[];
  readonly waxOverrides: Lab['waxOverrides'];
}

interface LotName {
  readonly maker: string;
  readonly lot: string;
}

/** `before` is what holds now: the lab's own value, or that of the table or the rule as supplied. */
export type OfferChange =
  | {
      readonly kind: 'wax-value';
      readonly wax: WaxClassId;
      readonly name: string;
      readonly before: number;
      readonly after: number;
    }
  | {
      readonly kind: 'rule-figure';
      /** Null: of the whole lab. */
      readonly station: string | null;
      readonly rule: string;
      readonly figure: string;
      readonly before: number | boolean;
      readonly after: number | boolean;
    }
  | ({ readonly kind: 'lot-added'; readonly wax: WaxClassId } & LotName)
  | ({ readonly kind: 'lot-expiry'; readonly before: string | null; readonly after: string } & LotName)
  | ({
      readonly kind: 'lot-value';
      readonly wax: WaxClassId;
      readonly name: string;
      /** Null: the sheet of the lot states nothing of it yet. */
      readonly before: number | null;
      readonly after: number;
    } & LotName);

const foldCase = (text: string): string => text.trim().toLocaleLowerCase('en');
export const sameLot = <L extends LotName>(
  lots: readonly L[] | undefined,
  { maker, lot }: LotName,
): L | undefined =>
  lots?.find((each) => foldCase(each.maker) === foldCase(maker) && foldCase(each.lot) === foldCase(lot));

const waxChanges = (
  { waxOverrides }: OfferTarget,
  { wax, values }: OfferItemOf<'wax-values'>,
): readonly OfferChange[] => {
  const id = findWaxClassId(wax);
  if (id === undefined) return [];
  const now = labsWaxClass(id, { waxOverrides });
  return Object.entries(values).flatMap(([name, after]): readonly OfferChange[] => {
    const before = waxValueAt(now, name)?.value;
    return before === undefined || before === after
      ? []
      : [{ kind: 'wax-value', wax: id, name, before, after }];
  });
};

const figureNow = (
  own: OwnFigures | undefined,
  rules: RulesByPlace,
  rule: string,
  figure: string,
): number | boolean | undefined =>
  ownEntry(ownEntry(own ?? {}, rule) ?? {}, figure) ??
  (figure === 'enabled' ? true : ownEntry(ownEntry(rules.all, rule)?.parameters ?? {}, figure)?.default);

const ruleChanges = (
  { site, stations }: OfferTarget,
  { place, rule, figures }: OfferItemOf<'rule-figures'>,
  rules: RulesByPlace,
): readonly OfferChange[] => {
  const holders =
    place === 'lab'
      ? [{ station: null, own: site.rules }]
      : stations.filter(({ kind }) => kind === place).map(({ id, rules: own }) => ({ station: id, own }));
  return holders.flatMap(({ station, own }) =>
    Object.entries(figures).flatMap(([figure, after]): readonly OfferChange[] => {
      const before = figureNow(own, rules, rule, figure);
      return before === undefined || before === after
        ? []
        : [{ kind: 'rule-figure', station, rule, figure, before, after }];
    }),
  );
};

const lotChanges = ({ lots }: OfferTarget, item: OfferItemOf<'lot'>): readonly OfferChange[] => {
  const wax = findWaxClassId(item.wax);
  if (wax === undefined) return [];
  const recorded = sameLot(lots, item);
  if (recorded !== undefined && recorded.wax !== wax) return [];
  const named = { maker: recorded?.maker ?? item.maker.trim(), lot: recorded?.lot ?? item.lot.trim() };
  const day = recorded?.expiresOn ?? null;
  return [
    ...(recorded === undefined ? [{ kind: 'lot-added', ...named, wax } as const] : []),
    ...(item.expires_on === null || item.expires_on === day
      ? []
      : [{ kind: 'lot-expiry', ...named, before: day, after: item.expires_on } as const]),
    ...Object.entries(item.sheet_values).flatMap(([name, after]): readonly OfferChange[] => {
      const before = ownEntry(recorded?.sheetValues ?? {}, name) ?? null;
      return before === after ? [] : [{ kind: 'lot-value', ...named, wax, name, before, after }];
    }),
  ];
};

const itemChanges = (target: OfferTarget, item: OfferItem, rules: RulesByPlace): readonly OfferChange[] => {
  if (item.kind === 'wax-values') return waxChanges(target, item);
  return item.kind === 'lot' ? lotChanges(target, item) : ruleChanges(target, item, rules);
};

const withRuleFigure = <H extends { readonly rules?: OwnFigures }>(
  holder: H,
  { rule, figure, after }: Extract<OfferChange, { readonly kind: 'rule-figure' }>,
): H => ({
  ...holder,
  rules: { ...holder.rules, [rule]: { ...ownEntry(holder.rules ?? {}, rule), [figure]: after } },
});

/** `number`: how many lots there are before it. */
type NewLot = (described: DescribedLot, number: number) => DescribedLot;

/** Lots keep what they have beside their description. */
const withChange = <T extends OfferTarget>(target: T, change: OfferChange, newLot: NewLot): T => {
  if (change.kind === 'wax-value') {
    const { wax, name, after } = change;
    const { waxOverrides } = target;
    return { ...target, waxOverrides: { ...waxOverrides, [wax]: { ...waxOverrides[wax], [name]: after } } };
  }
  if (change.kind === 'rule-figure')
    return change.station === null
      ? { ...target, site: withRuleFigure(target.site, change) }
      : {
          ...target,
          stations: target.stations.map((station) =>
            station.id === change.station ? withRuleFigure(station, change) : station,
          ),
        };
  const { lots = [] } = target;
  if (change.kind === 'lot-added') {
    const { wax, maker, lot } = change;
    return {
      ...target,
      lots: [...lots, newLot({ wax, maker, lot, expiresOn: null, sheetValues: {} }, lots.length)],
    };
  }
  const recorded = sameLot(lots, change);
  return {
    ...target,
    lots: lots.map((each) => {
      if (each !== recorded) return each;
      return change.kind === 'lot-expiry'
        ? { ...each, expiresOn: change.after }
        : { ...each, sheetValues: { ...each.sheetValues, [change.name]: change.after } };
    }),
  };
};

interface Taken<T> {
  readonly target: T;
  readonly changes: readonly OfferChange[];
}

const takeOffer = <T extends OfferTarget>(
  before: T,
  { items }: Pick<Offer, 'items'>,
  rules: RulesByPlace,
  newLot: NewLot,
): Taken<T> =>
  items.reduce<Taken<T>>(
    ({ target, changes }, item) => {
      const more = itemChanges(target, item, rules);
      return {
        target: more.reduce<T>((now, change) => withChange(now, change, newLot), target),
        changes: [...changes, ...more],
      };
    },
    { target: before, changes: [] },
  );

/** In the order of its items; empty where all of it holds already, or where nothing is of that kind. */
export const offerChanges = (
  target: OfferTarget,
  offer: Pick<Offer, 'items'>,
  rules: RulesByPlace,
): readonly OfferChange[] => takeOffer(target, offer, rules, (described) => described).changes;

/** @param recorded who accepts it, and when: a lot that is new to the lab is recorded by them */
export const withOffer = (
  lab: Lab,
  offer: Pick<Offer, 'id' | 'items'>,
  rules: RulesByPlace,
  recorded: Pick<WaxLot, 'recordedAt' | 'recordedBy'>,
): Lab =>
  takeOffer(
    lab,
    offer,
    rules,
    (described, number): WaxLot => ({ id: `${offer.id}-${number}`, ...described, ...recorded }),
  ).target;
