// A lot of wax as the interface shows it, with the values that count for it.

import { dateAt } from '../../../lab/calendar.ts';
import { labsWaxClass } from '../../../lab/limits.ts';
import { recall } from '../../../lab/patterns/recall.ts';
import { isExpired, type WaxLot } from '../../../lab/wax-lot.ts';
import { sheetValueNames } from '../../../wax/wax-class.ts';
import type { LotView } from '../../api/lots.ts';
import { waxFigureViews } from '../../queries/source-view.ts';
import type { RunningLab } from '../../queries/running-lab.ts';

export const isLotUsed = ({ repository }: RunningLab, lot: WaxLot): boolean => {
  const { charges, patterns } = recall([lot], repository.allCharges(), repository.allPatterns());
  return charges.length + patterns.length > 0;
};

export const lotView = (running: RunningLab, lot: WaxLot): LotView => {
  const lab = running.lab();
  const wax = labsWaxClass(lot.wax, lab, lot);
  return {
    ...lot,
    wax: { id: lot.wax, name: wax.name },
    isExpired: isExpired(lot, dateAt(lab.site, running.now()).toString()),
    sheetValues: { ...lot.sheetValues },
    figures: waxFigureViews(wax, sheetValueNames(lot.wax)),
    isUsed: isLotUsed(running, lot),
  };
};
