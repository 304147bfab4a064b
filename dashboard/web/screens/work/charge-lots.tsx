// From which lots the wax of a charge came: of its filling and of each top-up, entered afterwards where it was forgotten.

import { useState } from 'preact/hooks';
import type { ChargeView } from '../../../api/charges.ts';
import type { LotView } from '../../../api/lots.ts';
import { put } from '../../base/api.ts';
import { formatPercent } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import { reader } from '../../live/lab-state.ts';
import { mayDo } from '../../live/session.ts';
import { LotChoice } from './lot-choice.tsx';
import { instantText } from '../../live/instant-text.ts';

/** `toppedUpAt` absent: the filling. */
interface Portion {
  readonly toppedUpAt?: string;
  readonly lot: string | null;
  readonly name: string;
}

const portionsOf = ({ startedAt, lot, topUps }: ChargeView): readonly Portion[] => [
  { lot, name: t('work.portion-filled', { at: instantText(startedAt) }) },
  ...topUps.map((topUp) => ({
    toppedUpAt: topUp.at,
    lot: topUp.lot,
    name: t('work.portion-topped-up', {
      at: instantText(topUp.at),
      share: formatPercent(topUp.fraction, reader.value),
    }),
  })),
];

/** Nothing is shown while the lab has recorded no lot of this wax. */
export const ChargeLots = ({
  lots,
  ...props
}: {
  readonly charge: ChargeView;
  readonly lots: readonly LotView[];
}) => {
  const saving = useSaving();
  // What was saved shows at once; the list of charges follows the lab by itself.
  const [charge, setCharge] = useState(props.charge);
  if (!mayDo('tend-stations') || lots.every(({ wax }) => wax.id !== charge.wax.id)) return null;
  const save = (lot: string, toppedUpAt: string | undefined): void =>
    void saving.run(
      () =>
        put<ChargeView>(`/api/charges/${encodeURIComponent(charge.id)}/lot`, {
          lot: lot === '' ? null : lot,
          ...(toppedUpAt !== undefined && { toppedUpAt }),
        }),
      setCharge,
    );
  return (
    <details class="no-print">
      <summary>{t('work.lots-enter')}</summary>
      {portionsOf(charge).map(({ toppedUpAt, lot, name }) => (
        <fieldset class="work-narrow" key={toppedUpAt ?? 'filled'}>
          <legend>{name}</legend>
          <LotChoice
            lots={lots}
            wax={charge.wax.id}
            value={lot ?? ''}
            onChange={(chosen) => save(chosen, toppedUpAt)}
          />
        </fieldset>
      ))}
      <Refusal trouble={saving.refusal} retry={saving.retry} />
    </details>
  );
};
