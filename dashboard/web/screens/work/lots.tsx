// The lots of wax: one search for a recall, those that are recorded, and a form for a new one.

import { useLocation } from 'preact-iso';
import { useId, useState } from 'preact/hooks';
import type { LotView, RecallView } from '../../../api/lots.ts';
import { ActButton } from '../../base/act-button.tsx';
import { sendRemoval } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatDate } from '../../base/format.ts';
import { t, waxName } from '../../base/messages.ts';
import { DoneNote, noteDone } from '../../forms/undo.tsx';
import { reader } from '../../live/lab-state.ts';
import { mayDo } from '../../live/session.ts';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { useLoaded } from '../../live/use-loaded.ts';
import { LotForm } from './lot-form.tsx';
import { RecallTables } from './recall-tables.tsx';
import '../../forms/work.css';
import { submitWith } from '../../forms/submit-with.ts';
import { useTitle } from '../../base/use-title.ts';
import { instantText } from '../../live/instant-text.ts';

const Search = ({ asked }: { readonly asked: string }) => {
  const id = useId();
  const { route } = useLocation();
  const [text, setText] = useState(asked);
  return (
    <search class="no-print">
      <form class="row" onSubmit={submitWith(() => route(`/lots?recall=${encodeURIComponent(text.trim())}`))}>
        <p class="field">
          <label for={id}>{t('lots.search')}</label>
          <input
            id={id}
            type="search"
            value={text}
            maxLength={80}
            onInput={(event) => setText(event.currentTarget.value)}
          />
        </p>
        <ActButton text={t('lots.search-now')} isFirst disabled={text.trim() === ''} />
      </form>
    </search>
  );
};

const Found = ({ asked }: { readonly asked: string }) => {
  const { value, trouble } = useLoaded<RecallView>(`/api/recall?text=${encodeURIComponent(asked)}`);
  if (value === null) return trouble === null ? null : <TroubleNote trouble={trouble} />;
  return value.lots.length === 0 ? (
    <p class="note">{t('lots.found-none')}</p>
  ) : (
    <RecallTables found={value} />
  );
};

export const expiryText = ({ expiresOn, isExpired }: LotView): string => {
  if (expiresOn === null) return t('lots.expires-none');
  const day = formatDate(expiresOn, reader.value);
  return isExpired ? `${day} (${t('lots.expired')})` : day;
};

export default function Lots() {
  const { query } = useLocation();
  const asked = query.recall ?? '';
  const { value, trouble, reload } = useLoaded<readonly LotView[]>('/api/lots');
  useTitle(() => t('lots.title'));
  return (
    <div class="work">
      <h1>{t('lots.title')}</h1>
      <p class="dim">{t('lots.explain')}</p>
      <DoneNote />
      <Search key={asked} asked={asked} />
      {asked !== '' && <Found key={`found ${asked}`} asked={asked} />}
      {trouble !== null && <TroubleNote trouble={trouble} />}
      {value !== null && (
        <DataTable
          none={t('lots.none')}
          rows={value}
          keyOf={(lot) => lot.id}
          columns={{
            [t('lots.lot')]: (lot) => <a href={`/lots/${lot.id}`}>{`${lot.maker}, ${lot.lot}`}</a>,
            [t('station.wax')]: (lot) => waxName(lot.wax),
            [t('lots.expires')]: (lot) =>
              lot.isExpired ? <strong>{expiryText(lot)}</strong> : expiryText(lot),
            [t('lots.recorded')]: (lot) =>
              t('lots.recorded-by', { at: instantText(lot.recordedAt), by: lot.recordedBy }),
          }}
        />
      )}
      {mayDo('tend-stations') && (
        <section class="no-print">
          <h2>{t('lots.add')}</h2>
          <LotForm
            onSaved={(lot) => {
              reload();
              noteDone(t('lots.added'), () => sendRemoval(`/api/lots/${lot.id}`));
            }}
          />
        </section>
      )}
    </div>
  );
}
