// The figures of one rule at one place: changed within their bounds, tried where there is a past to try them on, then
// saved with a reason.

import { useState } from 'preact/hooks';
import type { RuleView } from '../../../api/lab-bodies.ts';
import { ruleDetects, t } from '../../base/messages.ts';
import { TextEntry, TickEntry } from '../../forms/entries.tsx';
import { FigureEntry } from '../../forms/figure-entry.tsx';
import type { Opened } from '../../forms/opened-form.tsx';
import { SubmitRow, useSaving } from '../../forms/saving.tsx';
import { noteDone } from '../../forms/undo.tsx';
import { labChanged } from '../../live/use-loaded.ts';
import { figuresAt, type OwnRules, type RulePlace } from './rule-place.ts';
import { RuleTrial } from './rule-trial.tsx';
import { submitWith } from '../../forms/submit-with.ts';

type Values = Readonly<Record<string, number>>;

const ownValues = ({ rules }: RulePlace, rule: string): Values =>
  Object.fromEntries(
    Object.entries(rules[rule] ?? {}).flatMap(([name, value]) =>
      typeof value === 'number' ? [[name, value]] : [],
    ),
  );

/** Values as supplied are not stored. */
const withRule = (rules: OwnRules, kind: string, values: Values, isOn: boolean): OwnRules => {
  const { [kind]: _, ...others } = rules;
  const own = { ...values, ...(isOn ? {} : { enabled: false }) };
  return Object.keys(own).length === 0 ? others : { ...others, [kind]: own };
};

interface RuleFormProps {
  readonly place: RulePlace;
  readonly rule: RuleView;
  readonly opened: Opened<number>;
}

export const RuleForm = ({ place, rule, opened: { version, takeSaved } }: RuleFormProps) => {
  const saving = useSaving();
  const trying = useSaving();
  const [values, setValues] = useState<Values>(() => ownValues(place, rule.kind));
  const [isOn, setIsOn] = useState(place.rules[rule.kind]?.enabled !== false);
  const [reason, setReason] = useState('');
  const change = (name: string, value: number | null): void => {
    const { [name]: _, ...others } = values;
    setValues(value === null ? others : { ...others, [name]: value });
  };
  const submit = (): void =>
    void saving.run(
      () => place.save(withRule(place.rules, rule.kind, values, isOn), version, reason),
      () => {
        labChanged();
        setReason('');
        takeSaved();
        noteDone(t('rule-figures.saved'), () => place.save(place.rules, version));
      },
    );
  const errorOf = (name: string): string | null =>
    (trying.errorAt(`values/${name}`) ?? saving.errorAt(`rules/${rule.kind}/${name}`))?.detail ?? null;
  return (
    <form onSubmit={submitWith(submit)}>
      <p class="dim">{ruleDetects(rule.kind)}</p>
      {rule.mayBeSwitchedOff && <TickEntry label="rule-figures.is-on" checked={isOn} onChange={setIsOn} />}
      <div class="pair">
        {figuresAt(rule, place).map(([name, figure]) => (
          <FigureEntry
            key={name}
            rule={rule.kind}
            name={name}
            figure={figure}
            value={values[name] ?? null}
            onChange={(value) => change(name, value)}
            error={errorOf(name)}
          />
        ))}
      </div>
      {place.station !== null && (
        <RuleTrial
          key={JSON.stringify(values)}
          station={place.station}
          rule={rule.kind}
          values={values}
          trying={trying}
        />
      )}
      <TextEntry label="alarm.reason" required maxLength={500} value={reason} onChange={setReason} />
      <SubmitRow saving={saving} label="rule-figures.save" isFirst isBlocked={reason.trim() === ''} />
    </form>
  );
};
