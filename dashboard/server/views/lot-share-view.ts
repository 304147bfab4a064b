// The lots in a wax with their names and shares, as they cross the wire.

import { dateAt } from '../../../lab/calendar.ts';
import type { LotShare } from '../../../lab/charge-shares.ts';
import { isExpired } from '../../../lab/wax-lot.ts';
import type { ChargeView } from '../../api/charges.ts';
import type { RunningLab } from '../../queries/running-lab.ts';

export const lotShareViews = (running: RunningLab, shares: readonly LotShare[]): ChargeView['lots'] => {
  const { lots = [], site } = running.lab();
  const today = dateAt(site, running.now()).toString();
  return shares.map(({ lot: id, share }) => {
    const lot = lots.find((each) => each.id === id);
    return {
      lot: id,
      name: lot === undefined ? null : `${lot.maker}, ${lot.lot}`,
      isExpired: lot !== undefined && isExpired(lot, today),
      share,
    };
  });
};
