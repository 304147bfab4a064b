// What the lab has changed of the rules as supplied; the rules that count at one station, or in the whole lab; and the
// form of the one that the address names.

import { useLocation } from 'preact-iso';
import type { RuleView } from '../../../api/lab-bodies.ts';
import { DataTable } from '../../base/data-table.tsx';
import { ruleDetects, ruleName, t } from '../../base/messages.ts';
import { PLACES } from '../../base/places.ts';
import { ChoiceEntry } from '../../forms/entries.tsx';
import { OpenedForm } from '../../forms/opened-form.tsx';
import { Refusal } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { useLab, useLoaded } from '../../live/use-loaded.ts';
import { RuleForm } from './rule-form.tsx';
import { RuleOverview } from './rule-overview.tsx';
import { figuresAt, type RulePlace, rulePlace, rulesAddress, WHOLE_LAB } from './rule-place.ts';

/** No id of a station begins so. */
const CHOICE_OF_LAB = '/lab';
const CHOICE_OF_OVERVIEW = '';

const ownText = ({ rules }: RulePlace, kind: string): string => {
  const { enabled, ...figures } = rules[kind] ?? {};
  if (enabled === false) return t('rule-figures.off');
  const count = Object.keys(figures).length;
  return count === 0 ? t('rule-figures.as-it-ships') : t('rule-figures.own', { count });
};

const RuleList = ({ place, rules }: { readonly place: RulePlace; readonly rules: readonly RuleView[] }) => (
  <DataTable
    rows={rules}
    keyOf={({ kind }) => kind}
    columns={{
      [t('rule-figures.rule')]: ({ kind }) => (
        <a href={rulesAddress(place.station, kind)}>{ruleName(kind)}</a>
      ),
      [t('rule-figures.detects')]: ({ kind }) => ruleDetects(kind),
      [t('rule-figures.settings')]: ({ kind }) => <span class="one-line">{ownText(place, kind)}</span>,
    }}
  />
);

export default function RuleFigures() {
  const lab = useLab();
  const rules = useLoaded<readonly RuleView[]>('/api/rules');
  const { query, route } = useLocation();
  const isOverview = query.scope !== WHOLE_LAB && query.station === undefined;
  const station = query.scope === WHOLE_LAB ? null : (query.station ?? null);
  const place = lab.value === null || isOverview ? null : rulePlace(lab.value, station);
  const settable =
    place === null ? [] : (rules.value ?? []).filter((rule) => figuresAt(rule, place).length > 0);
  const rule = settable.find(({ kind }) => kind === query.rule);
  const show = (choice: string): void => {
    if (choice === CHOICE_OF_OVERVIEW) route(PLACES['set-up/rules'], true);
    else route(rulesAddress(choice === CHOICE_OF_LAB ? null : choice, query.rule), true);
  };
  return (
    <SetUpPage heading="rule-figures.title" explain="rule-figures.explain" needs="set-up-lab">
      <Refusal trouble={lab.trouble} retry={lab.reload} />
      <Refusal trouble={rules.trouble} retry={rules.reload} />
      <div class="pair no-print">
        <ChoiceEntry
          label="rule-figures.where"
          value={isOverview ? CHOICE_OF_OVERVIEW : (station ?? CHOICE_OF_LAB)}
          options={[
            [CHOICE_OF_OVERVIEW, t('rule-figures.overview')],
            ...(lab.value?.stations ?? []).map(({ id, name }) => [id, name] as const),
            [CHOICE_OF_LAB, t('rule-figures.whole-lab')],
          ]}
          onChange={show}
        />
        {place !== null && (
          <ChoiceEntry
            label="rule-figures.rule"
            value={rule?.kind ?? ''}
            options={[
              ['', t('rule-figures.all')],
              ...settable.map(({ kind }) => [kind, ruleName(kind)] as const),
            ]}
            onChange={(kind) => route(rulesAddress(place.station, kind), true)}
          />
        )}
      </div>
      {isOverview && lab.value !== null && rules.value !== null && (
        <RuleOverview lab={lab.value} rules={rules.value} />
      )}
      {!isOverview && place === null && lab.value !== null && (
        <p role="alert">{t('rule-figures.no-station')}</p>
      )}
      {place !== null && rule === undefined && <RuleList place={place} rules={settable} />}
      {place !== null && rule !== undefined && (
        <OpenedForm key={`${place.station} ${rule.kind}`} newest={place.version}>
          {(opened) => <RuleForm place={place} rule={rule} opened={opened} />}
        </OpenedForm>
      )}
    </SetUpPage>
  );
}
