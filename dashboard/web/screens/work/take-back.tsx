// The way back from the newest change or top-up of a pot, for a day: offered where the charge is shown.

import type { ChargeView } from '../../../api/charges.ts';
import { ActButton } from '../../base/act-button.tsx';
import { formatPercent } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { mayDo } from '../../live/session.ts';
import { now, reader } from '../../live/lab-state.ts';
import { ActAnswer } from '../../forms/act-answer.tsx';
import { useAct } from '../../forms/use-act.ts';
import { instantText } from '../../live/instant-text.ts';

export const TakeBack = ({ charge }: { readonly charge: ChargeView }) => {
  const { act, busy, refusal, isKept } = useAct();
  const { newestAct } = charge;
  if (!mayDo('tend-stations')) return null;
  const isOpen = newestAct !== null && Date.parse(newestAct.until) > now.value;
  const places = { at: newestAct === null ? '' : instantText(newestAct.at) };
  const fresh = charge.topUps.at(-1)?.fraction ?? 0;
  return (
    <div class="take-back no-print">
      {isOpen && (
        <p class="row">
          <span class="dim">
            {newestAct.kind === 'charge-changed'
              ? t('work.take-back-charge', places)
              : t('work.take-back-top-up', { ...places, share: formatPercent(fresh, reader.value) })}
          </span>{' '}
          <ActButton
            text={t('work.take-back')}
            disabled={busy}
            onClick={() =>
              void act(
                `/api/stations/${encodeURIComponent(charge.station)}/take-back`,
                { id: newestAct.id, reason: t('work.taken-back-reason') },
                `${charge.stationName}: ${t('work.take-back')}`,
              )
            }
          />
        </p>
      )}
      <ActAnswer refusal={refusal} isKept={isKept} />
    </div>
  );
};
