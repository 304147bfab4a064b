// What speaks against taking an offer of the group in a lab, and what whoever takes it is warned of.

import { findWaxClassId } from '../../wax/classes/wax-class-id.ts';
import { type Problem, problem } from '../../wax/result.ts';
import { checkedWaxClass } from '../../wax/wax-class.ts';
import type { Offer, OfferItem } from './group-offer.ts';
import { ownFigureProblems, type RulesByPlace } from '../lab-file/own-figure-checks.ts';
import { type OfferChange, type OfferTarget, sameLot } from './offer.ts';
import type { FigurePlace } from '../own-figures.ts';
import { heats, STATION_KINDS } from '../station-kinds.ts';

const PLACES: readonly FigurePlace[] = [...STATION_KINDS, 'lab'];
const findPlace = (place: string): FigurePlace | undefined => PLACES.find((listed) => listed === place);

/** Why an item cannot be taken as it is, whatever else the lab answers to it. */
function itemProblem(target: OfferTarget, item: OfferItem, rules: RulesByPlace): Problem | null {
  if (item.kind === 'rule-figures') {
    const place = findPlace(item.place);
    if (place === undefined) return problem('field-not-listed', { allowed: PLACES.join(', ') }, item.place);
    return ownFigureProblems({ [item.rule]: item.figures }, rules, place, [])[0] ?? null;
  }
  const wax = findWaxClassId(item.wax);
  if (wax === undefined) return problem('wax-class-unknown', { wax: item.wax }, item.wax);
  const own = target.waxOverrides[wax];
  if (item.kind === 'wax-values') {
    const checked = checkedWaxClass(wax, { ...own, ...item.values });
    return checked.ok ? null : checked.problem;
  }
  const recorded = sameLot(target.lots, item);
  if (recorded !== undefined && recorded.wax !== wax) return problem('lot-of-another-wax', { lot: item.lot });
  const values = { ...recorded?.sheetValues, ...item.sheet_values };
  const checked = checkedWaxClass(wax, own, { maker: item.maker, lot: item.lot, values });
  return checked.ok ? null : checked.problem;
}

/** Why a lab like this cannot take the offer; empty when nothing in the offer itself is against it. */
export const offerProblems = (
  target: OfferTarget,
  { items }: Pick<Offer, 'items'>,
  rules: RulesByPlace,
): readonly Problem[] =>
  items.flatMap((item) => {
    const found = itemProblem(target, item, rules);
    return found === null ? [] : [found];
  });

const UPPER_LIMIT = /^(ceiling|(working|pot|anneal|bath)Window\.high)$/;

/** Whether wax may become hotter by it, or a heater be watched in another way: whoever accepts it is warned. */
export const concernsHeat = (
  { stations }: Pick<OfferTarget, 'stations'>,
  changes: readonly OfferChange[],
): boolean =>
  changes.some((change) => {
    if (change.kind === 'rule-figure')
      return stations.some(({ id, kind }) => id === change.station && heats(kind));
    if (change.kind !== 'wax-value' && change.kind !== 'lot-value') return false;
    return UPPER_LIMIT.test(change.name) && (change.before === null || change.after > change.before);
  });
