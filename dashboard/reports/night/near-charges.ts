// The charges of wax that are spent or nearly. Pure.

import type { NearCharge } from '../../api/night.ts';

/** Of the allowance; the alarm of a high dose takes the same. Common practice. */
const NEARLY_SHARE = 0.8;
const SPENT_SHARE = 1;

interface DosedStation {
  readonly station: string;
  readonly name: string;
  /** Of the allowance; null where no charge of a known wax is in it. */
  readonly doseShare: number | null;
}

/** Most used first. */
export const nearCharges = (stations: readonly DosedStation[]): readonly NearCharge[] =>
  stations
    .flatMap(({ station, name, doseShare }) =>
      doseShare === null || doseShare < NEARLY_SHARE
        ? []
        : [{ station, name, doseShare, isSpent: doseShare >= SPENT_SHARE }],
    )
    .sort((more, less) => less.doseShare - more.doseShare);
