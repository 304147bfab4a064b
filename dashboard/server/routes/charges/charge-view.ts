// A charge of wax as the interface shows it.

import type { Charge } from '../../../../lab/charge.ts';
import { ageShares, lotShares } from '../../../../lab/charge-shares.ts';
import { labsWaxClass } from '../../../../lab/limits.ts';
import { epochMillis } from '../../../../wax/units.ts';
import type { ChargeView } from '../../../api/charges.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import { lotShareViews } from '../../views/lot-share-view.ts';
import { newestAct } from './charge-records.ts';

export const chargeView = (running: RunningLab, charge: Charge): ChargeView => {
  const lab = running.lab();
  const status =
    charge.endedAt === null
      ? running.statuses().find(({ station }) => station === charge.station)
      : undefined;
  const { lot = null, ...facts } = charge;
  const end = charge.endedAt === null ? running.now() : epochMillis(Date.parse(charge.endedAt));
  return {
    ...facts,
    lot,
    stationName: lab.stations.find(({ id }) => id === charge.station)?.name ?? charge.station,
    wax: { id: charge.wax, name: labsWaxClass(charge.wax, lab).name },
    topUps: charge.topUps.map(({ lot: fresh = null, ...topUp }) => ({ ...topUp, lot: fresh })),
    lots: lotShareViews(running, lotShares(charge)),
    ages: [...ageShares(charge, end)],
    doseShare: status?.doseShare ?? null,
    doseEquivalentHours: status?.doseEquivalentHours ?? null,
    takenBack: charge.takenBack ?? null,
    newestAct: newestAct(charge, running.now()),
  };
};
