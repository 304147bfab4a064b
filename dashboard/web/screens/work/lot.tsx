// One lot of wax: what is on its pack, what its maker's sheet states, and what holds its wax.

import { useLocation, useRoute } from 'preact-iso';
import type { LotView, RecallView } from '../../../api/lots.ts';
import { ActButton } from '../../base/act-button.tsx';
import { asRead, sendRemoval, put } from '../../base/api.ts';
import { t, waxName } from '../../base/messages.ts';
import { OpenedForm } from '../../forms/opened-form.tsx';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import { DoneNote, noteDone } from '../../forms/undo.tsx';
import { mayDo } from '../../live/session.ts';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { useLoaded } from '../../live/use-loaded.ts';
import { WaxFigures } from '../common/wax-figures.tsx';
import { WaxValueForm, type WaxValues } from '../common/wax-value-form.tsx';
import { LotForm } from './lot-form.tsx';
import { expiryText } from './lots.tsx';
import { RecallTables } from './recall-tables.tsx';
import '../../forms/work.css';
import { useTitle } from '../../base/use-title.ts';
import { instantText } from '../../live/instant-text.ts';

interface PartProps {
  readonly lot: LotView;
  readonly version: number | null;
  readonly onSaved: () => void;
}

const SheetForm = ({ lot, version, onSaved }: PartProps) => {
  const saving = useSaving();
  const path = `/api/lots/${lot.id}/sheet`;
  const save = (values: WaxValues): void =>
    void saving.run(
      () => put(path, { values }, asRead(version)),
      () => {
        noteDone(t('lots.sheet-saved'), () => put(path, { values: lot.sheetValues }, asRead(version)));
        onSaved();
      },
    );
  return (
    <WaxValueForm
      class="work-form work-narrow no-print"
      figures={lot.figures}
      entered={lot.sheetValues}
      saving={saving}
      onSave={save}
      label="lots.sheet-value"
      save="lots.sheet-save"
      drop="lots.sheet-drop"
    />
  );
};

const Sheet = ({ lot, version, onSaved }: PartProps) => (
  <section>
    <h2>{t('lots.sheet')}</h2>
    <p class="dim">{t('lots.sheet-explain')}</p>
    {mayDo('set-up-lab') && (
      <OpenedForm newest={version}>
        {(opened) => (
          <SheetForm
            lot={lot}
            version={opened.version}
            onSaved={() => {
              opened.takeSaved();
              onSaved();
            }}
          />
        )}
      </OpenedForm>
    )}
    <WaxFigures figures={lot.figures} />
  </section>
);

const Remove = ({ lot, version }: Omit<PartProps, 'onSaved'>) => {
  const saving = useSaving();
  const { route } = useLocation();
  return lot.isUsed ? null : (
    <p class="no-print">
      <ActButton
        text={t('lots.remove')}
        disabled={saving.busy}
        onClick={() =>
          void saving.run(
            () => sendRemoval(`/api/lots/${lot.id}`, asRead(version)),
            () => route('/lots'),
          )
        }
      />
      <Refusal trouble={saving.refusal} retry={saving.retry} />
    </p>
  );
};

export default function Lot() {
  const { lot: id = '' } = useRoute().params;
  const recalled = useLoaded<RecallView>(`/api/recall?lot=${encodeURIComponent(id)}`);
  const { value, version, trouble, reload } = recalled;
  const lot = value?.lots[0];
  useTitle(() => (lot === undefined ? t('lots.title') : `${lot.maker}, ${lot.lot}`));
  return (
    <div class="work">
      <p class="row no-print">
        <a class="way" href="/lots">
          {t('lots.back')}
        </a>
      </p>
      {trouble?.status === 404 ? (
        <h1>{t('lots.unknown')}</h1>
      ) : (
        trouble !== null && <TroubleNote trouble={trouble} />
      )}
      {value !== null && lot !== undefined && (
        <>
          <header class="work-head">
            <p class="dim">{`${waxName(lot.wax)} · ${t('lots.expires')}: ${expiryText(lot)}`}</p>
            <h1>{`${lot.maker}, ${lot.lot}`}</h1>
            <p class="dim">
              {t('lots.recorded-by', { at: instantText(lot.recordedAt), by: lot.recordedBy })}
            </p>
          </header>
          <DoneNote />
          <RecallTables found={value} />
          <Sheet lot={lot} version={version} onSaved={reload} />
          {mayDo('tend-stations') && (
            <section class="no-print">
              <h2>{t('lots.correct')}</h2>
              <OpenedForm newest={version}>
                {(opened) => (
                  <LotForm
                    lot={lot}
                    version={opened.version}
                    onSaved={() => {
                      const { wax, maker, lot: number, expiresOn } = lot;
                      const before = { wax: wax.id, maker, lot: number, expiresOn };
                      opened.takeSaved();
                      noteDone(t('lots.changed'), () =>
                        put(`/api/lots/${lot.id}`, before, asRead(opened.version)),
                      );
                      reload();
                    }}
                  />
                )}
              </OpenedForm>
              <Remove lot={lot} version={version} />
            </section>
          )}
        </>
      )}
    </div>
  );
}
