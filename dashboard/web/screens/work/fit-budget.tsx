// The fit as a balance of shrinkages and expansions, worked out on this device with the figures of the science.

import { useSignalEffect } from '@preact/signals';
import { useState } from 'preact/hooks';
import {
  ALLOY_SHRINKAGE,
  fitBudget,
  INVESTMENT_EXPANSION,
  patternShrinkage,
} from '../../../../wax/fit-budget.ts';
import type { Celsius, Millimetres } from '../../../../wax/units.ts';
import { waxClass } from '../../../../wax/wax-class.ts';
import { WAX_CLASS_IDS, type WaxClassId } from '../../../../wax/classes/wax-class-id.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatNumber } from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { sourceText } from '../../live/source-text.ts';
import { reader } from '../../live/lab-state.ts';
import { Amount, Choice, Degrees } from '../../forms/fields.tsx';
import '../../forms/work.css';

type Alloy = keyof typeof ALLOY_SHRINKAGE;
type Investment = keyof typeof INVESTMENT_EXPANSION;

const keysOf = <T extends object>(table: T) => Object.keys(table) as (keyof T & string)[];
const named = <T extends string>(group: string, names: readonly T[]) =>
  names.map((name) => [name, word(group, name)] as const);

export default function FitBudget() {
  const [wax, setWax] = useState<WaxClassId>('inlay-type-2');
  const [alloy, setAlloy] = useState<Alloy>('gold-type-3');
  const [investment, setInvestment] = useState<Investment>('gypsum-thermal');
  const [formed, setFormed] = useState(37);
  const [invested, setInvested] = useState(22);
  const [length, setLength] = useState(10);
  useSignalEffect(() => {
    document.title = t('work.fit');
  });
  const shrinkage = patternShrinkage(waxClass(wax), formed as Celsius, invested as Celsius);
  const parts = shrinkage.ok
    ? { wax: shrinkage.value, alloy: ALLOY_SHRINKAGE[alloy], ...INVESTMENT_EXPANSION[investment] }
    : null;
  const budget = parts === null ? shrinkage : fitBudget({ ...parts, length: length as Millimetres });
  const number = (value: number, digits: number) => formatNumber(value, digits, reader.value);
  return (
    <div class="work">
      <h1>{t('work.fit')}</h1>
      <form class="work-form work-narrow">
        <Choice
          label={t('station.wax')}
          value={wax}
          options={named('wax', WAX_CLASS_IDS)}
          onChange={setWax}
        />
        <Degrees label={t('work.fit-formed')} celsius={formed} onCelsius={setFormed} />
        <Degrees label={t('work.fit-invested')} celsius={invested} onCelsius={setInvested} />
        <Choice
          label={t('work.fit-alloy')}
          value={alloy}
          options={named('alloy', keysOf(ALLOY_SHRINKAGE))}
          onChange={setAlloy}
        />
        <Choice
          label={t('work.fit-investment')}
          value={investment}
          options={named('investment', keysOf(INVESTMENT_EXPANSION))}
          onChange={setInvestment}
        />
        <Amount
          label={t('work.length')}
          value={length}
          onInput={(text) => setLength(Number.parseFloat(text))}
        />
      </form>
      <div role="status">
        {!budget.ok && <p class="note">{word('fit-problem', budget.problem.code)}</p>}
        {budget.ok && 'verdict' in budget.value && (
          <>
            <p class="work-verdict">{word('fit-verdict', budget.value.verdict)}</p>
            <p>
              {t('work.fit-result', {
                percent: number(budget.value.balancePercent, 2),
                uncertainty: number(budget.value.uncertaintyPercent, 2),
                micrometres: number(budget.value.balance, 0),
                spread: number(budget.value.uncertainty, 0),
              })}
            </p>
            <p class="dim">{t('work.fit-note', { standing: word('standing', budget.value.standing) })}</p>
          </>
        )}
      </div>
      {parts !== null && (
        <DataTable
          columns={[t('work.fit-part'), t('work.fit-percent'), t('figure.standing'), t('figure.source')]}
          rows={Object.entries(parts).map(([name, { percent, uncertainty }]) => ({
            key: name,
            cells: [
              word('fit-part', name),
              `${number(percent.value, 2)} ± ${number(uncertainty, 2)}`,
              word('standing', percent.standing),
              sourceText(percent.source),
            ],
          }))}
        />
      )}
    </div>
  );
}
