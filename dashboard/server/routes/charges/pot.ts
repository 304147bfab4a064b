// The pot that an act is about, and the charge of wax that is in it now.

import type { FastifyRequest } from 'fastify';
import type { StationAct } from '../../../../lab/act.ts';
import type { Charge } from '../../../../lab/charge.ts';
import type { Station } from '../../../../lab/station.ts';
import { holdsMeltedWax } from '../../../../lab/station-kinds.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import { HttpProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { authorOf } from '../../sign-in/guard.ts';
import { type ActWithout, perform } from '../common/act.ts';
import { requireStation } from '../common/station-of-request.ts';

export const chargeIn = (running: RunningLab, station: string): Charge | null =>
  running.lab().charges.find((charge) => charge.station === station && charge.endedAt === null) ?? null;

export const requirePot = (running: RunningLab, id: string): Station => {
  const station = requireStation(running, id);
  if (holdsMeltedWax(station.kind)) return station;
  throw new HttpProblem('not-a-pot', { values: { station: station.name } });
};

export const requireCharge = (running: RunningLab, station: Station): Charge => {
  const charge = chargeIn(running, station.id);
  if (charge !== null) return charge;
  throw new HttpProblem('no-charge', { values: { station: station.name } });
};

/** Journals an act at a station; `save` writes the lab's own records once the journal holds it. */
export const performAtStation = (
  context: ServerContext,
  request: FastifyRequest,
  station: string,
  act: ActWithout<StationAct, 'station' | 'by'>,
  save?: () => void,
): Promise<void> =>
  perform(
    context,
    request,
    { station, by: authorOf(request), ...act } as StationAct,
    () => chargeIn(context.running, station),
    save,
  );
