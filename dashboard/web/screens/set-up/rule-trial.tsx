// What other figures of a rule would have raised at a station, or at all of its kind, in the last days; tried before they
// are saved.

import { useState } from 'preact/hooks';
import type { TrialView } from '../../../api/trial.ts';
import { t } from '../../base/messages.ts';
import { TickEntry } from '../../forms/entries.tsx';
import type { Saving } from '../../forms/saving.tsx';
import { TrialButton } from './trial-button.tsx';
import { TrialTable } from './trial-table.tsx';
import { instantText } from '../../live/instant-text.ts';

const TrialDetails = ({ trial }: { readonly trial: TrialView }) => {
  const { earlier, fewer, later, more } = trial;
  return (
    <>
      <p>{t('rule-figures.differences', { earlier, later, more, fewer })}</p>
      <TrialTable trial={trial} tried={t('rule-figures.settings-tried')} />
    </>
  );
};

const TrialResult = ({ trial }: { readonly trial: TrialView }) => (
  <div role="status">
    {trial.readings === 0 ? (
      <p>{t('rule-figures.no-past')}</p>
    ) : (
      <p>
        <strong>
          {t('rule-figures.trial', { after: trial.after, before: trial.before, days: trial.days })}
        </strong>
      </p>
    )}
    {trial.readings > 0 && <TrialDetails trial={trial} />}
    {trial.beginnings.length > 0 && (
      <details>
        <summary>{t('rule-figures.when')}</summary>
        <ul>
          {trial.beginnings.map((at) => (
            <li key={at}>{instantText(at)}</li>
          ))}
        </ul>
      </details>
    )}
    <p class="dim">{t('rule-figures.how')}</p>
  </div>
);

interface RuleTrialProps {
  readonly station: string;
  readonly rule: string;
  readonly values: Readonly<Record<string, number>>;
  readonly trying: Saving;
}

/** With other values it is a trial of its own: the caller gives it another key. */
export const RuleTrial = ({ station, rule, values, trying }: RuleTrialProps) => {
  const [trial, setTrial] = useState<TrialView | null>(null);
  const [isEveryOfKind, setEveryOfKind] = useState(false);
  return (
    <>
      <TickEntry
        label="rule-figures.every-of-kind"
        checked={isEveryOfKind}
        onChange={(checked) => {
          setTrial(null);
          setEveryOfKind(checked);
        }}
      />
      <TrialButton
        station={station}
        rule={rule}
        values={values}
        isEveryOfKind={isEveryOfKind}
        trying={trying}
        onTried={setTrial}
      >
        {t('rule-figures.try')}
      </TrialButton>
      {trial && <TrialResult trial={trial} />}
    </>
  );
};
