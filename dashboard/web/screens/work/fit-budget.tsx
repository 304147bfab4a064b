// The fit as a balance of shrinkages and expansions, worked out on this device with the lab's figures: its own values of
// the wax, those of the lot, its own alloys and investments. Opened from a pattern it begins with that one's facts.

import { useLocation } from 'preact-iso';
import { useState } from 'preact/hooks';
import { alloyShrinkage, investmentExpansion } from '../../../../lab/casting-material.ts';
import { MOUTH_CELSIUS } from '../../../../lab/patterns/pattern-life.ts';
import { fitBudget, patternShrinkage } from '../../../../wax/relaxation/fit-budget.ts';
import { failure } from '../../../../wax/result.ts';
import type { Celsius, Millimetres } from '../../../../wax/units.ts';
import { checkedWaxClass } from '../../../../wax/wax-class.ts';
import { WAX_CLASS_IDS, type WaxClassId } from '../../../../wax/classes/wax-class-id.ts';
import type { CastingMaterialView } from '../../../api/casting.ts';
import type { LotView } from '../../../api/lots.ts';
import type { PatternView } from '../../../api/patterns.ts';
import { ActButton } from '../../base/act-button.tsx';
import { put } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatNumber } from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import { sourceText } from '../../live/source-text.ts';
import { reader } from '../../live/lab-state.ts';
import { mayDo } from '../../live/session.ts';
import { useLab, useLoaded } from '../../live/use-loaded.ts';
import { ChoiceEntry, NumberEntry, TemperatureEntry } from '../../forms/entries.tsx';
import { nameOfPattern } from '../common/bench/patterns-due.ts';
import { LotChoice } from './lot-choice.tsx';
import { materialOptions } from './material-options.ts';
import '../../forms/work.css';
import { useTitle } from '../../base/use-title.ts';

interface Case {
  readonly wax: WaxClassId;
  /** Empty: none. */
  readonly lot: string;
  readonly alloy: string;
  readonly investment: string;
  readonly formedCelsius: number;
  readonly investedCelsius: number;
  readonly lengthMillimetres: number;
}

/** A crown of the most usual wax and alloy, pressed at the temperature of a hand. */
const FIRST_CASE: Case = {
  wax: 'inlay-type-2',
  lot: '',
  alloy: 'gold-type-3',
  investment: 'gypsum-thermal',
  formedCelsius: 37,
  investedCelsius: 22,
  lengthMillimetres: 10,
};

/** What a pattern holds of its own case; the rest stays as it is usual. */
const caseOf = ({ wax, lots, casting, forming, lengthMillimetres, verdict }: PatternView): Case => ({
  ...FIRST_CASE,
  wax: WAX_CLASS_IDS.find((id) => id === wax.id) ?? FIRST_CASE.wax,
  lot: lots[0]?.lot ?? '',
  ...(casting.alloy !== undefined && { alloy: casting.alloy }),
  ...(casting.investment !== undefined && { investment: casting.investment }),
  formedCelsius:
    forming.celsius ??
    (forming.origin === 'direct' ? MOUTH_CELSIUS : (verdict?.fittedCelsius ?? FIRST_CASE.formedCelsius)),
  lengthMillimetres,
});

const number = (value: number, digits: number): string => formatNumber(value, digits, reader.value);

interface Figures {
  readonly overrides: Readonly<Record<string, Readonly<Record<string, number>>>>;
  readonly lots: readonly LotView[];
  readonly materials: readonly CastingMaterialView[];
}

/** The shrinkages and expansions of a case, and their balance. */
const balance = (facts: Case, { overrides, lots, materials }: Figures) => {
  const { wax: id, lot, formedCelsius, investedCelsius, lengthMillimetres } = facts;
  const stated = lots.find((each) => each.id === lot && each.wax.id === id);
  const sheet = stated && { ...stated, values: stated.sheetValues };
  const wax = checkedWaxClass(id, overrides[id], sheet);
  const alloy = alloyShrinkage(facts.alloy, materials);
  const investment = investmentExpansion(facts.investment, materials);
  if (!wax.ok || alloy === null || investment === null)
    return { parts: null, budget: failure('bad-budget-item', {}, facts.alloy) };
  const shrinkage = patternShrinkage(wax.value, formedCelsius as Celsius, investedCelsius as Celsius);
  if (!shrinkage.ok) return { parts: null, budget: shrinkage };
  const parts = { wax: shrinkage.value, alloy, ...investment };
  return { parts, budget: fitBudget({ ...parts, length: lengthMillimetres as Millimetres }) };
};

/** A field that is empty is not a number in the case. */
const numberOrNull = (value: number): number | null => (Number.isNaN(value) ? null : value);

const CaseForm = (props: {
  readonly facts: Case;
  readonly figures: Figures;
  readonly change: (part: Partial<Case>) => void;
}) => {
  const { facts, figures, change } = props;
  return (
    <form class="work-form fit-form">
      <ChoiceEntry
        label="station.wax"
        value={facts.wax}
        options={WAX_CLASS_IDS.map((id) => [id, word('wax', id)])}
        onChange={(wax) => change({ wax })}
      />
      <LotChoice lots={figures.lots} wax={facts.wax} value={facts.lot} onChange={(lot) => change({ lot })} />
      <TemperatureEntry
        label="work.fit-formed"
        celsius={numberOrNull(facts.formedCelsius)}
        onCelsius={(celsius) => change({ formedCelsius: celsius ?? Number.NaN })}
      />
      <TemperatureEntry
        label="work.fit-invested"
        celsius={numberOrNull(facts.investedCelsius)}
        onCelsius={(celsius) => change({ investedCelsius: celsius ?? Number.NaN })}
      />
      <ChoiceEntry
        label="work.fit-alloy"
        value={facts.alloy}
        options={materialOptions('alloy', figures.materials)}
        onChange={(alloy) => change({ alloy })}
      />
      <ChoiceEntry
        label="work.fit-investment"
        value={facts.investment}
        options={materialOptions('investment', figures.materials)}
        onChange={(investment) => change({ investment })}
      />
      <NumberEntry
        label="work.length"
        value={numberOrNull(facts.lengthMillimetres)}
        onChange={(length) => change({ lengthMillimetres: length ?? Number.NaN })}
      />
    </form>
  );
};

/** Alloy and investment of the case become those of the pattern. */
const KeepWithPattern = ({ pattern, facts }: { readonly pattern: PatternView; readonly facts: Case }) => {
  const saving = useSaving();
  const [isKept, setIsKept] = useState(false);
  const { alloy, investment } = facts;
  return (
    <div class="no-print">
      <ActButton
        text={t('work.fit-keep', { pattern: nameOfPattern(pattern) })}
        disabled={saving.busy}
        onClick={() =>
          void saving.run(
            () => put(`/api/patterns/${pattern.id}/casting`, { ...pattern.casting, alloy, investment }),
            () => setIsKept(true),
          )
        }
      />
      {isKept && <p role="status">{t('work.saved')}</p>}
      <Refusal trouble={saving.refusal} retry={saving.retry} />
    </div>
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
  const { query } = useLocation();
  const loading = useLoaded<PatternView>(
    query.pattern === undefined ? null : `/api/patterns/${encodeURIComponent(query.pattern)}`,
  );
  const { value: pattern } = loading;
  const [changes, setChanges] = useState<Partial<Case>>({});
  const lab = useLab();
  const lots = useLoaded<readonly LotView[]>('/api/lots');
  const materials = useLoaded<readonly CastingMaterialView[]>('/api/casting-materials');
  useTitle(() => t('work.fit'));
  const isComing = pattern === null && query.pattern !== undefined;
  if (lab.value === null || lots.value === null || materials.value === null || isComing) {
    // Without the lab's own values the sums would be those of another wax.
    const failed = [loading, lab, lots, materials].find(({ trouble }) => trouble !== null);
    return (
      <div class="work">
        <h1>{t('work.fit')}</h1>
        <Refusal trouble={failed?.trouble ?? null} retry={failed?.reload ?? (() => undefined)} />
      </div>
    );
  }
  const figures = { overrides: lab.value.waxOverrides, lots: lots.value, materials: materials.value };
  const facts = { ...(pattern === null ? FIRST_CASE : caseOf(pattern)), ...changes };
  const { parts, budget } = balance(facts, figures);
  return (
    <div class="work">
      <h1>{t('work.fit')}</h1>
      {pattern !== null && (
        <p>
          <a href={`/p/${pattern.id}`}>{nameOfPattern(pattern)}</a>
        </p>
      )}
      <CaseForm
        key={pattern?.id ?? ''}
        facts={facts}
        figures={figures}
        change={(part) => setChanges({ ...changes, ...part })}
      />
      <div role="status">
        <Verdict budget={budget} />
      </div>
      {pattern !== null && mayDo('tend-patterns') && <KeepWithPattern pattern={pattern} facts={facts} />}
      {parts !== null && (
        <DataTable
          rows={Object.entries(parts)}
          keyOf={([name]) => name}
          columns={{
            [t('work.fit-part')]: ([name]) => word('fit-part', name),
            [t('work.fit-percent')]: {
              figures: ([, { percent, uncertainty }]) =>
                `${number(percent.value, 2)} ± ${number(uncertainty, 2)}`,
            },
            [t('figure.standing')]: ([, { percent }]) => word('standing', percent.standing),
            [t('figure.source')]: ([, { percent }]) => sourceText(percent.source),
          }}
        />
      )}
      {mayDo('set-up-lab') && (
        <p class="no-print">
          <a class="way" href="/set-up/casting-materials">
            {t('work.fit-own')}
          </a>
        </p>
      )}
    </div>
  );
}
