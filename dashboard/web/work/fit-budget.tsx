// The fit as a balance of shrinkages and expansions, worked out on this device with the figures of the science.

import { useSignalEffect } from '@preact/signals';
import { useId, useState } from 'preact/hooks';
import {
  ALLOY_SHRINKAGE,
  fitBudget,
  INVESTMENT_EXPANSION,
  patternShrinkage,
} from '../../../wax/fit-budget.ts';
import type { Celsius, Millimetres } from '../../../wax/units.ts';
import { waxClass } from '../../../wax/wax-class.ts';
import { WAX_CLASS_IDS, type WaxClassId } from '../../../wax/wax-class-id.ts';
import { DataTable } from '../frame/data-table.tsx';
import { formatNumber } from '../frame/format.ts';
import { t, word } from '../frame/messages.ts';
import { reader } from '../live/lab-state.ts';
import './work.css';

type Alloy = keyof typeof ALLOY_SHRINKAGE;
type Investment = keyof typeof INVESTMENT_EXPANSION;

const Choice = <T extends string>(props: {
  readonly label: string;
  readonly group: string;
  readonly value: T;
  readonly options: readonly T[];
  readonly onChange: (value: T) => void;
}) => {
  const id = useId();
  return (
    <p class="field">
      <label for={id}>{props.label}</label>
      <select
        id={id}
        value={props.value}
        onChange={(event) => {
          const chosen = props.options.find((one) => one === event.currentTarget.value);
          if (chosen !== undefined) props.onChange(chosen);
        }}
      >
        {props.options.map((one) => (
          <option key={one} value={one}>
            {word(props.group, one)}
          </option>
        ))}
      </select>
    </p>
  );
};

const Amount = (props: {
  readonly label: string;
  readonly value: number;
  readonly onChange: (value: number) => void;
}) => {
  const id = useId();
  return (
    <p class="field">
      <label for={id}>{props.label}</label>
      <input
        id={id}
        type="number"
        inputMode="decimal"
        step="any"
        value={props.value}
        onInput={(event) => props.onChange(event.currentTarget.valueAsNumber)}
      />
    </p>
  );
};

const keysOf = <T extends object>(table: T) => Object.keys(table) as (keyof T & string)[];

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
        <Choice label={t('station.wax')} group="wax" value={wax} options={WAX_CLASS_IDS} onChange={setWax} />
        <Amount label={`${t('work.fit-formed')}, °C`} value={formed} onChange={setFormed} />
        <Amount label={`${t('work.fit-invested')}, °C`} value={invested} onChange={setInvested} />
        <Choice
          label={t('work.fit-alloy')}
          group="alloy"
          value={alloy}
          options={keysOf(ALLOY_SHRINKAGE)}
          onChange={setAlloy}
        />
        <Choice
          label={t('work.fit-investment')}
          group="investment"
          value={investment}
          options={keysOf(INVESTMENT_EXPANSION)}
          onChange={setInvestment}
        />
        <Amount label={t('work.length')} value={length} onChange={setLength} />
      </form>
      <div role="status">
        {!budget.ok && <p class="note">{budget.problem.message}</p>}
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
              percent.source,
            ],
          }))}
        />
      )}
    </div>
  );
}
