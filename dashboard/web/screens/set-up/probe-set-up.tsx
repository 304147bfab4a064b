// Probes: which was seen, to which station it belongs, and how it was calibrated.

import { useState } from 'preact/hooks';
import type { LabView } from '../../../api/lab-bodies.ts';
import type { ProbeView } from '../../../api/schemas.ts';
import { ActButton } from '../../base/act-button.tsx';
import { DataTable } from '../../base/data-table.tsx';
import { formatDifference, formatTemperature } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { probes, reader } from '../../live/lab-state.ts';
import { CalibrationForm } from './calibration-form.tsx';
import { labChanged, useLab } from '../../live/use-loaded.ts';
import { type DescribedProbe, describeProbe, probeBody } from './probe-body.ts';
import { putProbe } from './put-probe.ts';
import { PublishLine } from './publish-line.tsx';
import { OpenedForm } from '../../forms/opened-form.tsx';
import { Refusal, type Saving, useSaving } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { noteDone } from '../../forms/undo.tsx';
import { ageOf } from '../../live/probe-text.ts';

const lastText = (seen: ProbeView): string =>
  seen.celsius === null || seen.at === null
    ? t('station.never')
    : `${formatTemperature(seen.celsius, reader.value)} · ${ageOf(seen.at)}`;

interface Row {
  readonly seen: ProbeView;
  readonly probe: DescribedProbe;
}

const StationChoice = (props: Row & { readonly lab: LabView; readonly saving: Saving }) => {
  const { seen, probe, lab, saving } = props;
  const assign = (station: string): void => {
    const { station: _, ...rest } = probeBody(probe);
    void saving.run(
      () => putProbe(probe, lab.version, station === '' ? rest : { ...rest, station }),
      () => {
        labChanged();
        noteDone(t(station === '' ? 'probe.released' : 'probe.given', { probe: seen.id }), () =>
          putProbe(probe, lab.version),
        );
      },
    );
  };
  return (
    <select
      class="act"
      aria-label={t('probe.station-of', { probe: seen.id })}
      value={probe.station ?? ''}
      disabled={saving.busy}
      onChange={(event) => assign(event.currentTarget.value)}
    >
      <option value="">{t('probes.unclaimed')}</option>
      {lab.stations.map((station) => (
        <option key={station.id} value={station.id}>
          {station.name}
        </option>
      ))}
    </select>
  );
};

interface ProbeTableProps {
  readonly lab: LabView;
  readonly rows: readonly Row[];
  readonly saving: Saving;
  readonly onCalibrate: (id: string) => void;
}

const ProbeTable = ({ lab, rows, saving, onCalibrate }: ProbeTableProps) => (
  <DataTable
    rows={rows}
    keyOf={({ seen }) => seen.id}
    columns={{
      [t('probes.probe')]: ({ seen }) => <a href={`/probe/${encodeURIComponent(seen.id)}`}>{seen.id}</a>,
      [t('probes.gateway')]: ({ seen }) => seen.gateway,
      [t('probes.last')]: ({ seen }) => lastText(seen),
      [t('probes.station')]: ({ seen, probe }) =>
        seen.retired ? (
          t('probes.retired')
        ) : (
          <StationChoice seen={seen} probe={probe} lab={lab} saving={saving} />
        ),
      [t('calibration.uncertainty')]: {
        figures: ({ probe }) =>
          probe.uncertainty_celsius === undefined
            ? '–'
            : `± ${formatDifference(probe.uncertainty_celsius, reader.value, 2)}`,
      },
      [t('set-up.acts')]: ({ seen }) => (
        <ActButton
          text={t('calibration.open')}
          label={t('calibration.of', { probe: seen.id })}
          onClick={() => onCalibrate(seen.id)}
        />
      ),
    }}
  />
);

/** Those without a station first; one that the lab does not describe yet is described by its id and gateway. */
const rowsOf = (lab: LabView): readonly Row[] =>
  [...probes.value]
    .sort((first, second) => Number(first.claimed) - Number(second.claimed))
    .map((seen) => ({ seen, probe: describeProbe(lab.probes, seen) }));

export default function ProbeSetUp() {
  const lab = useLab();
  const saving = useSaving();
  const [open, setOpen] = useState<string | null>(null);
  const rows = lab.value === null ? [] : rowsOf(lab.value);
  const edited = rows.find(({ seen }) => seen.id === open)?.probe;
  return (
    <SetUpPage heading="nav.probes" explain="probe.explain" needs="set-up-lab">
      <Refusal trouble={lab.trouble} retry={lab.reload} />
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      {lab.value && rows.length === 0 && (
        <div class="card">
          <p>{t('empty.none-seen')}</p>
          <PublishLine />
        </div>
      )}
      {lab.value && rows.length > 0 && (
        <ProbeTable lab={lab.value} rows={rows} saving={saving} onCalibrate={setOpen} />
      )}
      {lab.value && edited && (
        <section>
          <h2>{t('calibration.of', { probe: edited.id })}</h2>
          <OpenedForm key={edited.id} newest={lab.value.version}>
            {({ version }) => (
              <CalibrationForm
                probe={edited}
                version={version}
                onSaved={(before) => {
                  setOpen(null);
                  noteDone(t('calibration.saved'), () => putProbe(before, version));
                }}
                onCancel={() => setOpen(null)}
              />
            )}
          </OpenedForm>
        </section>
      )}
      <p>
        <a class="way" href="/quarantine">
          {t('home.quarantine')}
        </a>
      </p>
    </SetUpPage>
  );
}
