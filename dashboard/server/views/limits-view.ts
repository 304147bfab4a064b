// The window and the ceiling of a station as they cross the wire. Storage shows the warmest that its wax may lie at
// as the upper end of a window without a lower one.

import type { Lab } from '../../../lab/lab.ts';
import { stationLimits, waxClassAt } from '../../../lab/limits.ts';
import type { Station } from '../../../lab/station.ts';
import type { WaxValue } from '../../../wax/wax-class.ts';
import type { Figure } from '../../api/figures.ts';
import type { StationView } from '../../api/schemas.ts';
import { figureView } from '../../queries/source-view.ts';

const figure = (value: WaxValue | null): Figure | null => (value === null ? null : figureView(value));

export const limitsView = (
  station: Station,
  lab: Lab,
): Pick<StationView, 'wax' | 'windowLow' | 'windowHigh' | 'ceiling'> => {
  const wax = waxClassAt(station, lab);
  const limits = stationLimits(station, lab);
  return {
    wax: wax === null ? null : { id: wax.id, name: wax.name },
    windowLow: figure(limits.windowLow),
    windowHigh: figure(limits.windowHigh ?? limits.storageMax),
    ceiling: figure(limits.ceiling),
  };
};
