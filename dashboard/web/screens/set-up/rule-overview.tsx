// Every setting of a rule that the lab has changed, across the stations of a kind, with where it is still as supplied; and
// what the settings as supplied would have raised there, beside what was really raised.

import { useState } from 'preact/hooks';
import type { LabView, RuleView } from '../../../api/lab-bodies.ts';
import type { TrialView } from '../../../api/trial.ts';
import { DataTable } from '../../base/data-table.tsx';
import { ruleDetects, ruleName, t, word } from '../../base/messages.ts';
import { figureText } from '../../forms/figure-entry.tsx';
import { figureLabel } from '../../forms/figure-label.ts';
import { useSaving } from '../../forms/saving.tsx';
import { type KindDifferences, type SettingPlace, ruleDifferences } from './rule-differences.ts';
import { rulesAddress } from './rule-place.ts';
import { TrialButton } from './trial-button.tsx';
import { TrialTable } from './trial-table.tsx';

type RuleDifference = KindDifferences['rules'][number];
type Difference = RuleDifference['differences'][number];

const valueText = ({ figure }: Difference, value: number | boolean): string => {
  if (typeof value === 'boolean') return t(value ? 'rule-figures.on' : 'rule-figures.off');
  return figure === null ? String(value) : figureText(figure, value);
};

const defaultText = (difference: Difference): string =>
  valueText(difference, difference.figure?.default ?? true);

const placeName = ({ station, name }: SettingPlace): string =>
  station === null ? t('rule-figures.whole-lab') : name;

const PlaceLinks = ({
  places,
  rule,
}: {
  readonly places: readonly SettingPlace[];
  readonly rule: string;
}) => (
  <>
    {places.map((place, index) => (
      <span key={place.station}>
        {index > 0 && ', '}
        <a href={rulesAddress(place.station, rule)}>{placeName(place)}</a>
      </span>
    ))}
  </>
);

const DifferenceTable = ({ rule, differences }: RuleDifference) => (
  <DataTable
    rows={differences}
    keyOf={(difference) => difference.name}
    columns={{
      [t('rule-figures.setting')]: (difference) =>
        difference.figure === null
          ? t('rule-figures.is-on')
          : figureLabel(rule.kind, difference.name, difference.figure.unit),
      [t('rule-figures.supplied')]: (difference) => (
        <>
          {defaultText(difference)}
          {difference.figure !== null && (
            <span class="dim"> ({word('standing', difference.figure.standing)})</span>
          )}
        </>
      ),
      [t('rule-figures.set-here')]: (difference) => (
        <ul>
          {difference.held.map(({ value, places }) => (
            <li key={String(value)}>
              <strong>{valueText(difference, value)}</strong>
              {' · '}
              <PlaceLinks places={places} rule={rule.kind} />
            </li>
          ))}
        </ul>
      ),
      [t('rule-figures.unchanged-at')]: (difference) =>
        difference.asSupplied.length === 0 ? (
          '–'
        ) : (
          <PlaceLinks key="supplied" places={difference.asSupplied} rule={rule.kind} />
        ),
    }}
  />
);

/** Asked at one station for all of its kind. */
const SuppliedTrial = ({ rule, station }: { readonly rule: string; readonly station: string }) => {
  const trying = useSaving();
  const [trial, setTrial] = useState<TrialView | null>(null);
  return (
    <>
      <TrialButton station={station} rule={rule} values={{}} isEveryOfKind trying={trying} onTried={setTrial}>
        {t('rule-figures.try-supplied')}
        <span class="unseen"> {ruleName(rule)}</span>
      </TrialButton>
      <div role="status">
        {trial !== null && trial.readings === 0 && <p>{t('rule-figures.no-past')}</p>}
        {trial !== null && trial.readings > 0 && (
          <>
            <p>
              <strong>{t('rule-figures.trial-days', { days: trial.days })}</strong>
            </p>
            <TrialTable trial={trial} tried={t('rule-figures.as-it-ships')} />
            <p class="dim">{t('rule-figures.how')}</p>
          </>
        )}
      </div>
    </>
  );
};

const KindSection = ({ kind, places, rules }: KindDifferences) => {
  const [first] = places;
  return (
    <section>
      <h2>
        {kind === 'lab'
          ? t('rule-figures.whole-lab')
          : t('rule-figures.kind', { kind: word('kind', kind), count: places.length })}
      </h2>
      {rules.map((difference) => (
        <div key={difference.rule.kind} class="card rule-difference">
          <h3>{ruleName(difference.rule.kind)}</h3>
          <p class="dim">{ruleDetects(difference.rule.kind)}</p>
          <DifferenceTable {...difference} />
          {first?.station != null && <SuppliedTrial rule={difference.rule.kind} station={first.station} />}
        </div>
      ))}
    </section>
  );
};

export const RuleOverview = (props: { readonly lab: LabView; readonly rules: readonly RuleView[] }) => {
  const kinds = ruleDifferences(props.lab, props.rules);
  if (kinds.length === 0) return <p>{t('rule-figures.none-changed')}</p>;
  return (
    <>
      <p>{t('rule-figures.overview-explain')}</p>
      {kinds.map((kind) => (
        <KindSection key={kind.kind} {...kind} />
      ))}
    </>
  );
};
