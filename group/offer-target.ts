// A lab as far as an offer can change it, from what the lab has reported of itself. What a newer version of a lab
// reports and this one does not know stays out. Pure.

import type { FiguresMessage } from '../lab/group/group-message.ts';
import type { DescribedLot, OfferTarget } from '../lab/group/offer.ts';
import { STATION_KINDS } from '../lab/station-kinds.ts';
import { findWaxClassId } from '../wax/classes/wax-class-id.ts';

export const offerTarget = ({ lots, rules, stations, waxes }: FiguresMessage): OfferTarget => ({
  site: { rules },
  waxOverrides: waxes,
  stations: stations.flatMap(({ kind: reported, ...station }) => {
    const kind = STATION_KINDS.find((listed) => listed === reported);
    return kind === undefined ? [] : [{ ...station, kind }];
  }),
  lots: lots.flatMap(({ expires_on, sheet_values, wax: reported, ...lot }): readonly DescribedLot[] => {
    const wax = findWaxClassId(reported);
    return wax === undefined ? [] : [{ ...lot, wax, expiresOn: expires_on, sheetValues: sheet_values }];
  }),
});
