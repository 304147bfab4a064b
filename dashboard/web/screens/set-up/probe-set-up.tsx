// Probes: which was seen, to which station it belongs, and how it was calibrated.

import { useState } from 'preact/hooks';
import type { ProbeView } from '../../../api/schemas.ts';
import { put } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatAge, formatDifference, formatTemperature } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { now, probes, reader } from '../../live/lab-state.ts';
import { CalibrationForm } from './calibration-form.tsx';
import { labChanged, useLab } from '../../live/use-loaded.ts';
import { type DescribedProbe, probeBody } from './probe-body.ts';
import { PublishLine } from './publish-line.tsx';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { tellDone } from '../../forms/undo.tsx';

const lastText = (seen: ProbeView): string =>
  seen.celsius === null || seen.at === null
    ? t('station.never')
    : `${formatTemperature(seen.celsius, reader.value)} · ${formatAge((now.value - Date.parse(seen.at)) / 1000, reader.value)}`;

export default function ProbeSetUp() {
  const lab = useLab();
  const saving = useSaving();
  const [open, setOpen] = useState<string | null>(null);
  const described = (seen: ProbeView): DescribedProbe =>
    lab.value?.probes.find(({ id }) => id === seen.id) ?? { id: seen.id, gateway: seen.gateway };
  const undo = (before: DescribedProbe) => () => put(`/api/probes/${before.id}`, probeBody(before));
  const give = (seen: ProbeView, station: string): void => {
    const before = described(seen);
    const { station: _, ...rest } = probeBody(before);
    void saving.run(
      () => put(`/api/probes/${seen.id}`, station === '' ? rest : { ...rest, station }),
      () => {
        labChanged();
        tellDone(t(station === '' ? 'probe.released' : 'probe.given', { probe: seen.id }), undo(before));
      },
    );
  };
  const sorted = [...probes.value].sort((one, other) => Number(one.claimed) - Number(other.claimed));
  const edited = sorted.find(({ id }) => id === open);
  return (
    <SetUpPage heading="nav.probes" explain="probe.explain" needs="set-up-lab">
      <Refusal trouble={lab.trouble} retry={lab.reload} />
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      {lab.value && sorted.length === 0 && (
        <div class="plate">
          <p>{t('empty.none-seen')}</p>
          <PublishLine />
        </div>
      )}
      {lab.value && sorted.length > 0 && (
        <DataTable
          columns={[
            t('probes.probe'),
            t('probes.gateway'),
            t('probes.last'),
            t('probes.station'),
            t('calibration.uncertainty'),
            t('set-up.acts'),
          ]}
          rows={sorted.map((seen) => {
            const probe = described(seen);
            return {
              key: seen.id,
              cells: [
                seen.id,
                seen.gateway,
                lastText(seen),
                <select
                  class="act"
                  aria-label={t('probe.station-of', { probe: seen.id })}
                  value={probe.station ?? ''}
                  disabled={saving.busy}
                  onChange={(event) => give(seen, event.currentTarget.value)}
                >
                  <option value="">{t('probes.unclaimed')}</option>
                  {lab.value?.stations.map((station) => (
                    <option key={station.id} value={station.id}>
                      {station.name}
                    </option>
                  ))}
                </select>,
                probe.uncertainty_celsius === undefined
                  ? '–'
                  : `± ${formatDifference(probe.uncertainty_celsius, reader.value, 2)}`,
                <button
                  type="button"
                  class="act"
                  aria-label={t('calibration.of', { probe: seen.id })}
                  onClick={() => setOpen(seen.id)}
                >
                  {t('calibration.open')}
                </button>,
              ],
            };
          })}
        />
      )}
      {edited && (
        <section>
          <h2>{t('calibration.of', { probe: edited.id })}</h2>
          <CalibrationForm
            key={edited.id}
            probe={described(edited)}
            onSaved={(before) => {
              setOpen(null);
              tellDone(t('calibration.saved'), undo(before));
            }}
            onCancel={() => setOpen(null)}
          />
        </section>
      )}
      <p>
        <a href="/quarantine">{t('home.quarantine')}</a>
      </p>
    </SetUpPage>
  );
}
