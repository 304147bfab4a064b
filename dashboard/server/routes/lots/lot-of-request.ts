// The lot that a request is about, or that a request names for a wax.

import type { WaxClassId } from '../../../../wax/classes/wax-class-id.ts';
import type { WaxLot } from '../../../../lab/wax-lot.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import { fieldProblem, HttpProblem } from '../../base/problem.ts';

export const requireLot = (running: RunningLab, id: string): WaxLot => {
  const lot = running.lab().lots?.find((each) => each.id === id);
  if (lot === undefined) throw new HttpProblem('unknown-lot', { values: { id } });
  return lot;
};

/** The id that the body names under `lot`, of a lot of this wax; undefined where it names none. */
export const lotOfWax = (
  running: RunningLab,
  id: string | undefined,
  wax: WaxClassId,
): string | undefined => {
  if (id === undefined) return undefined;
  const lot = running.lab().lots?.find((each) => each.id === id);
  if (lot === undefined) throw fieldProblem('/body/lot', 'unknown-lot', { id });
  if (lot.wax !== wax) throw fieldProblem('/body/lot', 'lot-of-another-wax', { lot: lot.lot });
  return id;
};
