// The rules that count at one station, or in the whole lab: which of them have settings of their own, and the form of
// the one that the address names.

import { useLocation } from 'preact-iso';
import type { RuleView } from '../../../api/lab-bodies.ts';
import { DataTable } from '../../base/data-table.tsx';
import { ruleDetects, ruleName, t } from '../../base/messages.ts';
import { PLACES } from '../../base/places.ts';
import { ChoiceEntry } from '../../forms/entries.tsx';
import { Refusal } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { useLab, useLoaded } from '../../live/use-loaded.ts';
import { RuleForm } from './rule-form.tsx';
import { figuresAt, type RulePlace, rulePlace } from './rule-place.ts';

const WHOLE_LAB = 'lab';
type Scope = { readonly station: string } | typeof WHOLE_LAB;

/** The address of the rules there, or of one of them. */
const addressOf = (scope: Scope, rule = ''): string =>
  `${PLACES['set-up/rules']}?${new URLSearchParams({
    ...(scope === WHOLE_LAB ? { scope } : scope),
    ...(rule !== '' && { rule }),
  })}`;

const scopeOf = ({ station }: RulePlace): Scope => (station === null ? WHOLE_LAB : { station });

const ownText = ({ rules }: RulePlace, kind: string): string => {
  const { enabled, ...figures } = rules[kind] ?? {};
  if (enabled === false) return t('rule-figures.off');
  const count = Object.keys(figures).length;
  return count === 0 ? t('rule-figures.as-it-ships') : t('rule-figures.own', { count });
};

const RuleList = ({ place, rules }: { readonly place: RulePlace; readonly rules: readonly RuleView[] }) => (
  <DataTable
    columns={[t('rule-figures.rule'), t('rule-figures.detects'), t('rule-figures.settings')]}
    rows={rules.map(({ kind }) => ({
      key: kind,
      cells: [
        <a key={kind} href={addressOf(scopeOf(place), kind)}>
          {ruleName(kind)}
        </a>,
        ruleDetects(kind),
        <span class="one-line">{ownText(place, kind)}</span>,
      ],
    }))}
  />
);

export default function RuleFigures() {
  const lab = useLab();
  const rules = useLoaded<readonly RuleView[]>('/api/rules');
  const { query, route } = useLocation();
  const stations = lab.value?.stations ?? [];
  const station = query.scope === WHOLE_LAB ? null : (query.station ?? stations[0]?.id ?? null);
  const place = lab.value === null ? null : rulePlace(lab.value, station);
  const settable =
    place === null ? [] : (rules.value ?? []).filter((rule) => figuresAt(rule, place).length > 0);
  const rule = settable.find(({ kind }) => kind === query.rule);
  const show = (scope: Scope, kind?: string): void => route(addressOf(scope, kind), true);
  return (
    <SetUpPage heading="rule-figures.title" explain="rule-figures.explain" needs="set-up-lab">
      <Refusal trouble={lab.trouble} retry={lab.reload} />
      <Refusal trouble={rules.trouble} retry={rules.reload} />
      <div class="pair">
        <ChoiceEntry
          label="rule-figures.where"
          value={station ?? ''}
          options={[
            ...stations.map(({ id, name }) => [id, name] as const),
            ['', t('rule-figures.whole-lab')],
          ]}
          onChange={(id) => show(id === '' ? WHOLE_LAB : { station: id }, query.rule)}
        />
        {place !== null && (
          <ChoiceEntry
            label="rule-figures.rule"
            value={rule?.kind ?? ''}
            options={[
              ['', t('rule-figures.all')],
              ...settable.map(({ kind }) => [kind, ruleName(kind)] as const),
            ]}
            onChange={(kind) => show(scopeOf(place), kind)}
          />
        )}
      </div>
      {place === null && lab.value !== null && <p role="alert">{t('rule-figures.no-station')}</p>}
      {place !== null && rule === undefined && <RuleList place={place} rules={settable} />}
      {place !== null && rule !== undefined && (
        <RuleForm key={`${place.station} ${rule.kind}`} place={place} rule={rule} />
      )}
    </SetUpPage>
  );
}
