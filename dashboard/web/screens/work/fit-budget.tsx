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

interface Case {
  readonly wax: WaxClassId;
  readonly alloy: Alloy;
  readonly investment: Investment;
  readonly formedCelsius: number;
  readonly investedCelsius: number;
  readonly lengthMillimetres: number;
}

/** A crown of the most usual wax and alloy, pressed at the temperature of a hand. */
const FIRST_CASE: Case = {
  wax: 'inlay-type-2',
  alloy: 'gold-type-3',
  investment: 'gypsum-thermal',
  formedCelsius: 37,
  investedCelsius: 22,
  lengthMillimetres: 10,
};

const number = (value: number, digits: number): string => formatNumber(value, digits, reader.value);

/** The shrinkages and expansions of a case, and their balance. */
const balance = ({ wax, alloy, investment, formedCelsius, investedCelsius, lengthMillimetres }: Case) => {
  const shrinkage = patternShrinkage(waxClass(wax), formedCelsius as Celsius, investedCelsius as Celsius);
  if (!shrinkage.ok) return { parts: null, budget: shrinkage };
  const parts = { wax: shrinkage.value, alloy: ALLOY_SHRINKAGE[alloy], ...INVESTMENT_EXPANSION[investment] };
  return { parts, budget: fitBudget({ ...parts, length: lengthMillimetres as Millimetres }) };
};

const CaseForm = (props: { readonly facts: Case; readonly change: (part: Partial<Case>) => void }) => {
  const { facts, change } = props;
  return (
    <form class="work-form work-narrow">
      <Choice
        label={t('station.wax')}
        value={facts.wax}
        options={named('wax', WAX_CLASS_IDS)}
        onChange={(wax) => change({ wax })}
      />
      <Degrees
        label={t('work.fit-formed')}
        celsius={facts.formedCelsius}
        onCelsius={(formedCelsius) => change({ formedCelsius })}
      />
      <Degrees
        label={t('work.fit-invested')}
        celsius={facts.investedCelsius}
        onCelsius={(investedCelsius) => change({ investedCelsius })}
      />
      <Choice
        label={t('work.fit-alloy')}
        value={facts.alloy}
        options={named('alloy', keysOf(ALLOY_SHRINKAGE))}
        onChange={(alloy) => change({ alloy })}
      />
      <Choice
        label={t('work.fit-investment')}
        value={facts.investment}
        options={named('investment', keysOf(INVESTMENT_EXPANSION))}
        onChange={(investment) => change({ investment })}
      />
      <Amount
        label={t('work.length')}
        value={facts.lengthMillimetres}
        onInput={(text) => change({ lengthMillimetres: Number.parseFloat(text) })}
      />
    </form>
  );
};

const Verdict = ({ budget }: { readonly budget: ReturnType<typeof balance>['budget'] }) => {
  if (!budget.ok) return <p class="note">{word('fit-problem', budget.problem.code)}</p>;
  if (!('verdict' in budget.value)) return null;
  const {
    verdict,
    balancePercent,
    uncertaintyPercent,
    balance: micrometres,
    uncertainty,
    standing,
  } = budget.value;
  return (
    <>
      <p class="work-verdict">{word('fit-verdict', verdict)}</p>
      <p>
        {t('work.fit-result', {
          percent: number(balancePercent, 2),
          uncertainty: number(uncertaintyPercent, 2),
          micrometres: number(micrometres, 0),
          spread: number(uncertainty, 0),
        })}
      </p>
      <p class="dim">{t('work.fit-note', { standing: word('standing', standing) })}</p>
    </>
  );
};

export default function FitBudget() {
  const [facts, setFacts] = useState(FIRST_CASE);
  useSignalEffect(() => {
    document.title = t('work.fit');
  });
  const { parts, budget } = balance(facts);
  return (
    <div class="work">
      <h1>{t('work.fit')}</h1>
      <CaseForm facts={facts} change={(part) => setFacts({ ...facts, ...part })} />
      <div role="status">
        <Verdict budget={budget} />
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
