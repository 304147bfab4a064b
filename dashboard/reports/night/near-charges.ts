// The charges of wax that are spent or nearly, by the figures of the alarms about the same. Pure.

import type { RuleFigures } from '../../../lab/database/settings-history.ts';
import type { NearCharge } from '../../api/night.ts';

/** Of the allowance, where the alarms are off. Common practice. */
const NEARLY_SHARE = 0.8;
const SPENT_SHARE = 1;

interface DosedStation {
  readonly station: string;
  readonly name: string;
  /** Of the allowance; null where no charge of a known wax is in it. */
  readonly doseShare: number | null;
  readonly figures: RuleFigures;
}

const limitOf = (figures: RuleFigures, rule: 'heat-dose-high' | 'charge-spent', otherwise: number): number =>
  figures[rule]?.limit_share ?? otherwise;

/** Most used first. */
export const nearCharges = (stations: readonly DosedStation[]): readonly NearCharge[] =>
  stations
    .flatMap(({ station, name, doseShare, figures }) => {
      if (doseShare === null) return [];
      const isSpent = doseShare >= limitOf(figures, 'charge-spent', SPENT_SHARE);
      const isNear = doseShare >= limitOf(figures, 'heat-dose-high', NEARLY_SHARE);
      return isSpent || isNear ? [{ station, name, doseShare, isSpent }] : [];
    })
    .sort((more, less) => less.doseShare - more.doseShare);
