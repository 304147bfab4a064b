// The figures of one rule at one station: changed within their bounds, tried on the last thirty days, then kept with
// a reason.

import { useLocation } from 'preact-iso';
import { useEffect, useState } from 'preact/hooks';
import type { RuleView } from '../../../api/lab-bodies.ts';
import type { TrialView } from '../../../api/trial.ts';
import { put, send } from '../../base/api.ts';
import { formatInstant } from '../../base/format.ts';
import { ruleDetects, ruleName, t } from '../../base/messages.ts';
import { now, reader } from '../../live/lab-state.ts';
import { ChoiceEntry, TextEntry } from '../../forms/entries.tsx';
import { FigureEntry } from '../../forms/figure-entry.tsx';
import { labChanged, useLab, useLoaded } from '../../live/use-loaded.ts';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { type DescribedStation, stationBody } from './station-form.tsx';
import { noteDone } from '../../forms/undo.tsx';

type Values = Readonly<Record<string, number>>;

const ownValues = (station: DescribedStation, rule: string): Values =>
  Object.fromEntries(
    Object.entries(station.rules?.[rule] ?? {}).flatMap(([name, value]) =>
      typeof value === 'number' ? [[name, value]] : [],
    ),
  );

const TrialResult = ({ trial }: { readonly trial: TrialView }) => (
  <div role="status">
    {trial.minutes === 0 ? (
      <p>{t('rule-figures.no-past')}</p>
    ) : (
      <p>
        <strong>
          {t('rule-figures.trial', { after: trial.after, before: trial.before, days: trial.days })}
        </strong>
      </p>
    )}
    {trial.beginnings.length > 0 && (
      <details>
        <summary>{t('rule-figures.when')}</summary>
        <ul>
          {trial.beginnings.map((at) => (
            <li key={at}>{formatInstant(at, now.value, reader.value)}</li>
          ))}
        </ul>
      </details>
    )}
    <p class="dim">{t('rule-figures.how')}</p>
  </div>
);

const FiguresForm = ({ station, rule }: { readonly station: DescribedStation; readonly rule: RuleView }) => {
  const saving = useSaving();
  const trying = useSaving();
  const [values, setValues] = useState<Values>(() => ownValues(station, rule.kind));
  const [trial, setTrial] = useState<TrialView | null>(null);
  const [reason, setReason] = useState('');
  const change = (name: string, value: number | null): void => {
    setTrial(null);
    const { [name]: _, ...others } = values;
    setValues(value === null ? others : { ...others, [name]: value });
  };
  const save = (): void => {
    const before = stationBody(station);
    const { enabled } = station.rules?.[rule.kind] ?? {};
    const own = { ...values, ...(enabled === undefined ? {} : { enabled }) };
    const { [rule.kind]: _, ...others } = station.rules ?? {};
    const rules = Object.keys(own).length === 0 ? others : { ...others, [rule.kind]: own };
    void saving.run(
      () => put(`/api/stations/${station.id}`, { ...before, rules, reason }),
      () => {
        labChanged();
        setReason('');
        noteDone(t('rule-figures.saved'), () => put(`/api/stations/${station.id}`, before));
      },
    );
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        save();
      }}
    >
      <p class="dim">{ruleDetects(rule.kind)}</p>
      <div class="pair">
        {Object.entries(rule.parameters).map(([name, figure]) => (
          <FigureEntry
            key={name}
            rule={rule.kind}
            name={name}
            figure={figure}
            value={values[name] ?? null}
            onChange={(value) => change(name, value)}
            error={
              (trying.errorAt(`values/${name}`) ?? saving.errorAt(`rules/${rule.kind}/${name}`))?.detail ??
              null
            }
          />
        ))}
      </div>
      <p class="row">
        <button
          type="button"
          class="act"
          disabled={trying.busy}
          onClick={() =>
            void trying.run(
              () => send<TrialView>(`/api/stations/${station.id}/trial`, { rule: rule.kind, values }),
              setTrial,
            )
          }
        >
          {t(trying.busy ? 'rule-figures.trying' : 'rule-figures.try')}
        </button>
      </p>
      <Refusal trouble={trying.refusal} retry={trying.retry} />
      {trial && <TrialResult trial={trial} />}
      <TextEntry label="alarm.reason" required maxLength={500} value={reason} onChange={setReason} />
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      <p class="row">
        <button type="submit" class="act" data-first="true" disabled={saving.busy || reason.trim() === ''}>
          {t('rule-figures.save')}
        </button>
      </p>
    </form>
  );
};

export default function RuleFigures() {
  const lab = useLab();
  const rules = useLoaded<readonly RuleView[]>('/api/rules');
  const { query } = useLocation();
  const [stationId, setStation] = useState(query.station ?? '');
  const [kind, setKind] = useState('');
  const stations = lab.value?.stations ?? [];
  const settable = (rules.value ?? []).filter(({ parameters }) => Object.keys(parameters).length > 0);
  useEffect(() => {
    if (stationId === '' && stations[0]) setStation(stations[0].id);
  }, [stations, stationId]);
  const station = stations.find(({ id }) => id === stationId);
  const rule = settable.find((rule) => rule.kind === kind) ?? settable[0];
  return (
    <SetUpPage heading="rule-figures.title" explain="rule-figures.explain" needs="set-up-lab">
      <Refusal trouble={lab.trouble} retry={lab.reload} />
      <Refusal trouble={rules.trouble} retry={rules.reload} />
      <div class="pair">
        <ChoiceEntry
          label="probes.station"
          value={stationId}
          options={stations.map(({ id, name }) => [id, name])}
          onChange={setStation}
        />
        <ChoiceEntry
          label="rule-figures.rule"
          value={rule?.kind ?? ''}
          options={settable.map((rule) => [rule.kind, ruleName(rule.kind)])}
          onChange={setKind}
        />
      </div>
      {station && rule && <FiguresForm key={`${station.id} ${rule.kind}`} station={station} rule={rule} />}
    </SetUpPage>
  );
}
