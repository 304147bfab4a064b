// The wax in the pots: what is spent soonest, and those that were changed before.

import { holdsMeltedWax } from '../../../../lab/station-kinds.ts';
import type { ChargeView } from '../../../api/charges.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatNumber } from '../../base/format.ts';
import { t, waxName } from '../../base/messages.ts';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { reader, stations } from '../../live/lab-state.ts';
import { ChargeCard } from './charge-card.tsx';
import { useLots } from './lot-choice.tsx';
import { useLoaded } from '../../live/use-loaded.ts';
import { WaitingActs } from '../../forms/waiting-acts.tsx';
import '../../forms/work.css';
import { useTitle } from '../../base/use-title.ts';
import { ActLink } from '../../base/act-link.tsx';
import { instantText } from '../../live/instant-text.ts';

export default function Charges() {
  const { value, trouble } = useLoaded<readonly ChargeView[]>('/api/charges');
  const lots = useLots();
  useTitle(() => t('work.charges'));
  const present = (value ?? [])
    .filter(({ endedAt }) => endedAt === null)
    .sort((left, right) => (right.doseShare ?? 0) - (left.doseShare ?? 0));
  const ended = (value ?? []).filter(({ endedAt }) => endedAt !== null);
  const withoutCharge = stations.value
    .map((station) => station.value)
    .filter(({ id, kind }) => holdsMeltedWax(kind) && !present.some(({ station }) => station === id));
  const at = (instant: string | null): string => (instant === null ? '–' : instantText(instant));
  return (
    <div class="work">
      <header class="row work-head">
        <h1>{t('work.charges')}</h1>
        <ActLink href="/lots" text="work.lots" />
      </header>
      <WaitingActs />
      {trouble !== null && <TroubleNote trouble={trouble} />}
      {value === null && trouble === null && <p role="status">{t('screen.loading')}</p>}
      {value !== null && present.length === 0 && <p class="note">{t('work.charges-none')}</p>}
      {value !== null && withoutCharge.length > 0 && (
        <p class="row">
          {present.length > 0 && <span>{t('work.charges-missing')}</span>}
          {withoutCharge.map(({ id, name }) => (
            <a key={id} class="act" href={`/s/${id}`}>
              {name}
            </a>
          ))}
        </p>
      )}
      {present.map((charge) => (
        <ChargeCard key={charge.id} charge={charge} lots={lots} />
      ))}
      {ended.length > 0 && (
        <section>
          <h2>{t('work.charges-earlier')}</h2>
          <DataTable
            rows={ended}
            keyOf={(charge) => charge.id}
            columns={{
              [t('probes.station')]: (charge) => charge.stationName,
              [t('station.wax')]: (charge) => waxName(charge.wax),
              [t('work.grams')]: { figures: (charge) => formatNumber(charge.grams, 0, reader.value) },
              [t('station.charge-since')]: (charge) => at(charge.startedAt),
              [t('work.until')]: (charge) =>
                charge.takenBack === null
                  ? at(charge.endedAt)
                  : t('work.taken-back-by', { by: charge.takenBack.by }),
            }}
          />
        </section>
      )}
    </div>
  );
}
