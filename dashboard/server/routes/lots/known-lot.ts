// The lot that a request is about, or that a request names for a wax.

import type { WaxClassId } from '../../../../wax/classes/wax-class-id.ts';
import type { WaxLot } from '../../../../lab/wax-lot.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import { fieldProblem, HttpProblem } from '../../base/problem.ts';

export const knownLot = (running: RunningLab, id: string): WaxLot => {
  const lot = running.lab().lots?.find((each) => each.id === id);
  if (lot === undefined) throw new HttpProblem('unknown-lot', { values: { id } });
  return lot;
};

/** The id that the body names under `pointer`, of a lot of this wax; undefined where it names none. */
export const lotOfWax = (
  running: RunningLab,
  id: string | undefined,
  wax: WaxClassId,
  pointer = '/body/lot',
): string | undefined => {
  if (id === undefined) return undefined;
  const lot = running.lab().lots?.find((each) => each.id === id);
  if (lot === undefined) throw fieldProblem(pointer, 'unknown-lot', { id });
  if (lot.wax !== wax) throw fieldProblem(pointer, 'lot-of-another-wax', { lot: lot.lot });
  return id;
};
