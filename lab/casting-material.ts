// Alloys and investments of the lab with the figures of their makers, beside those of the textbooks' tables. Linear
// changes in percent; the uncertainty is the half-width of what the maker states.

import type { WaxValue } from '../wax/classes/wax-value.ts';
import {
  ALLOY_SHRINKAGE,
  type BudgetItem,
  type FitBudgetInput,
  INVESTMENT_EXPANSION,
} from '../wax/relaxation/fit-budget.ts';

export interface LinearChange {
  readonly percent: number;
  readonly uncertainty_percent: number;
}

interface Named {
  readonly id: string;
  /** As the lab types it. */
  readonly name: string;
}
export interface OwnAlloy extends Named {
  readonly kind: 'alloy';
  /** On casting; shrinkage positive. */
  readonly shrinkage: LinearChange;
}
export interface OwnInvestment extends Named {
  readonly kind: 'investment';
  readonly setting: LinearChange;
  readonly hygroscopic: LinearChange;
  readonly thermal: LinearChange;
}
export type CastingMaterial = OwnAlloy | OwnInvestment;

const own = (value: number): WaxValue => ({ value, standing: "lab's own", source: { code: 'set-by-lab' } });
const item = ({ percent, uncertainty_percent }: LinearChange): BudgetItem => ({
  percent: own(percent),
  uncertainty: uncertainty_percent,
});

/** Shrinkage of the lab's own alloy or one of the table; null for an id of neither. */
export function alloyShrinkage(id: string, materials: readonly CastingMaterial[]): BudgetItem | null {
  const alloy = materials.find((material) => material.kind === 'alloy' && material.id === id);
  if (alloy?.kind === 'alloy') return item(alloy.shrinkage);
  return Object.entries(ALLOY_SHRINKAGE).find(([name]) => name === id)?.[1] ?? null;
}

/** Expansions of the lab's own investment or one of the table; null for an id of neither. */
export function investmentExpansion(
  id: string,
  materials: readonly CastingMaterial[],
): Pick<FitBudgetInput, 'setting' | 'hygroscopic' | 'thermal'> | null {
  const investment = materials.find((material) => material.kind === 'investment' && material.id === id);
  if (investment?.kind === 'investment')
    return {
      setting: item(investment.setting),
      hygroscopic: item(investment.hygroscopic),
      thermal: item(investment.thermal),
    };
  return Object.entries(INVESTMENT_EXPANSION).find(([name]) => name === id)?.[1] ?? null;
}
