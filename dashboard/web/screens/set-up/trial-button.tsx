// Asks what other figures of a rule would have raised at a station, or at all of its kind, in the last days.

import type { ComponentChildren } from 'preact';
import type { TrialView } from '../../../api/trial.ts';
import { ActButton } from '../../base/act-button.tsx';
import { send } from '../../base/api.ts';
import { t } from '../../base/messages.ts';
import { Refusal, type Saving } from '../../forms/saving.tsx';

interface TrialButtonProps {
  readonly station: string;
  readonly rule: string;
  readonly values: Readonly<Record<string, number>>;
  readonly isEveryOfKind: boolean;
  readonly trying: Saving;
  readonly onTried: (trial: TrialView) => void;
  readonly children: ComponentChildren;
}

export const TrialButton = (props: TrialButtonProps) => {
  const { station, rule, values, isEveryOfKind, trying, onTried, children } = props;
  const ask = () =>
    send<TrialView>(`/api/stations/${encodeURIComponent(station)}/trial`, {
      rule,
      values,
      every_station_of_kind: isEveryOfKind,
    });
  return (
    <>
      <p class="row no-print">
        <ActButton
          text={trying.busy ? t('rule-figures.trying') : children}
          disabled={trying.busy}
          onClick={() => void trying.run(ask, onTried)}
        />
      </p>
      <Refusal trouble={trying.refusal} retry={trying.retry} />
    </>
  );
};
