// A charge of wax as the interface shows it.

import type { Charge } from '../../../../lab/charge.ts';
import { labsWaxClass } from '../../../../lab/limits.ts';
import type { ChargeView } from '../../../api/patterns.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import { newestAct } from './charge-records.ts';

export const chargeView = (running: RunningLab, charge: Charge): ChargeView => {
  const lab = running.lab();
  const status =
    charge.endedAt === null
      ? running.statuses().find(({ station }) => station === charge.station)
      : undefined;
  return {
    ...charge,
    stationName: lab.stations.find(({ id }) => id === charge.station)?.name ?? charge.station,
    wax: { id: charge.wax, name: labsWaxClass(charge.wax, lab).name },
    topUps: [...charge.topUps],
    doseShare: status?.doseShare ?? null,
    doseEquivalentHours: status?.doseEquivalentHours ?? null,
    takenBack: charge.takenBack ?? null,
    newestAct: newestAct(charge, running.now()),
  };
};
