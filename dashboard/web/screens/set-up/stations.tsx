// The stations of the lab: added, changed, removed; what was removed can be brought back with its probes.

import { useState } from 'preact/hooks';
import type { LabView } from '../../../api/lab-bodies.ts';
import { ActButton } from '../../base/act-button.tsx';
import { asRead, sendRemoval, put } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { t, word } from '../../base/messages.ts';
import { labChanged, useLab } from '../../live/use-loaded.ts';
import { putProbe } from './put-probe.ts';
import { OpenedForm } from '../../forms/opened-form.tsx';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { type DescribedStation, StationForm, stationBody } from './station-form.tsx';
import { inTurn, noteDone } from '../../forms/undo.tsx';

/** The station as it was, and its probes at it again. */
const bringBack = (station: DescribedStation, lab: LabView) => {
  const probes = lab.probes.filter((probe) => probe.station === station.id);
  return () =>
    inTurn([
      () => put(`/api/stations/${station.id}`, stationBody(station), asRead(lab.version)),
      ...probes.map((probe) => () => putProbe(probe, lab.version)),
    ]);
};

const StationTable = ({ lab, onEdit }: { readonly lab: LabView; readonly onEdit: (id: string) => void }) => {
  const saving = useSaving();
  const remove = (station: DescribedStation): void =>
    void saving.run(
      () => sendRemoval(`/api/stations/${station.id}`, asRead(lab.version)),
      () => {
        labChanged();
        noteDone(t('stations.removed', { name: station.name }), bringBack(station, lab));
      },
    );
  return (
    <>
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      <DataTable
        rows={lab.stations}
        keyOf={(station) => station.id}
        columns={{
          [t('probes.station')]: (station) => <a href={`/station/${station.id}`}>{station.name}</a>,
          [t('stations.kind')]: (station) => word('kind', station.kind),
          [t('station.wax')]: (station) =>
            station.wax === undefined ? t('station.no-wax') : word('wax', station.wax),
          [t('nav.probes')]: (station) =>
            lab.probes
              .filter((probe) => probe.station === station.id)
              .map(({ id }) => id)
              .join(', ') || '–',
          [t('set-up.acts')]: (station) => (
            <span class="row">
              <ActButton
                text={t('set-up.edit')}
                label={t('set-up.edit-of', { name: station.name })}
                onClick={() => onEdit(station.id)}
              />
              <ActButton
                text={t('set-up.remove')}
                label={t('set-up.remove-of', { name: station.name })}
                disabled={saving.busy}
                onClick={() => remove(station)}
              />
            </span>
          ),
        }}
      />
    </>
  );
};

export default function Stations() {
  const lab = useLab();
  const [open, setOpen] = useState<string | null>(null);
  const stations = lab.value?.stations ?? [];
  const taken = stations.map(({ id }) => id);
  const saved = (before: DescribedStation | null, version: number) => (id: string) => {
    setOpen(null);
    noteDone(t('stations.saved'), () =>
      before === null
        ? sendRemoval(`/api/stations/${id}`, asRead(version))
        : put(`/api/stations/${id}`, stationBody(before), asRead(version)),
    );
  };
  const edited = stations.find(({ id }) => id === open) ?? null;
  return (
    <SetUpPage heading="stations.title" explain="stations.explain" needs="set-up-lab">
      <Refusal trouble={lab.trouble} retry={lab.reload} />
      {lab.value && stations.length === 0 && open === null && <p>{t('stations.none')}</p>}
      {lab.value && stations.length > 0 && <StationTable lab={lab.value} onEdit={setOpen} />}
      {lab.value && open !== null && (
        <section>
          <h2>{edited === null ? t('stations.new') : edited.name}</h2>
          <OpenedForm key={open} newest={lab.value.version}>
            {({ version }) => (
              <StationForm
                station={edited}
                version={version}
                taken={taken}
                save="set-up.save"
                onSaved={saved(edited, version)}
                onCancel={() => setOpen(null)}
              />
            )}
          </OpenedForm>
        </section>
      )}
      {lab.value && open === null && (
        <p>
          <ActButton text={t('stations.add')} isFirst onClick={() => setOpen('')} />
        </p>
      )}
    </SetUpPage>
  );
}
