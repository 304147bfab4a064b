// One station: its name, kind and wax, the limits that follow, and the lab's own values over them.

import { useState } from 'preact/hooks';
import type { LabView } from '../../../api/lab-bodies.ts';
import {
  holdsMeltedWax,
  STATION_KIND_FACTS,
  STATION_KINDS,
  type StationKind,
} from '../../../../lab/station-kinds.ts';
import { WAX_CLASS_IDS } from '../../../../wax/classes/wax-class-id.ts';
import { put } from '../../base/api.ts';
import { type MessageKey, t, word } from '../../base/messages.ts';
import { ChoiceEntry, NumberEntry, TemperatureEntry, TextEntry } from '../../forms/entries.tsx';
import { LimitsShown } from './limits-shown.tsx';
import { labChanged } from '../../live/use-loaded.ts';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import { stationId } from '../../forms/station-id.ts';

export type DescribedStation = LabView['stations'][number];

export const stationBody = ({ id: _, ...body }: DescribedStation) => body;

interface StationFormProps {
  /** Null for a new one. */
  readonly station: DescribedStation | null;
  readonly taken: readonly string[];
  readonly save: MessageKey;
  readonly onSaved: (id: string) => void;
  readonly onCancel?: () => void;
}

export const StationForm = ({ station, taken, save, onSaved, onCancel }: StationFormProps) => {
  const saving = useSaving();
  const [name, setName] = useState(station?.name ?? '');
  const [kind, setKind] = useState<StationKind>(station?.kind ?? STATION_KINDS[0]);
  const [wax, setWax] = useState<string>(station?.wax ?? '');
  const [low, setLow] = useState(station?.window_celsius?.[0] ?? null);
  const [high, setHigh] = useState(station?.window_celsius?.[1] ?? null);
  const [ceiling, setCeiling] = useState(station?.ceiling_celsius ?? null);
  const [grams, setGrams] = useState(station?.charge_grams ?? null);
  const [reason, setReason] = useState('');
  const submit = (): void => {
    const id = station?.id ?? stationId(name, taken);
    const body = {
      name: name.trim(),
      kind,
      ...(wax === '' ? {} : { wax }),
      ...(low === null || high === null ? {} : { window_celsius: [low, high] }),
      ...(ceiling === null || STATION_KIND_FACTS[kind].ceiling === null ? {} : { ceiling_celsius: ceiling }),
      ...(grams === null || !holdsMeltedWax(kind) ? {} : { charge_grams: grams }),
      ...(station?.rules === undefined ? {} : { rules: station.rules }),
      ...(reason === '' ? {} : { reason }),
    };
    void saving.run(
      () => put(`/api/stations/${id}`, body),
      () => {
        labChanged();
        onSaved(id);
      },
    );
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        submit();
      }}
    >
      <TextEntry
        label="stations.name"
        hint={t('stations.name-hint')}
        required
        maxLength={80}
        value={name}
        onChange={setName}
        error={saving.errorAt('name')}
      />
      <div class="pair">
        <ChoiceEntry
          label="stations.kind"
          value={kind}
          options={STATION_KINDS.map((one) => [one, word('kind', one)])}
          onChange={(chosen) => setKind(STATION_KINDS.find((one) => one === chosen) ?? kind)}
        />
        <ChoiceEntry
          label="station.wax"
          value={wax}
          options={[
            ['', t('station.no-wax')],
            ...WAX_CLASS_IDS.map((one) => [one, word('wax', one)] as const),
          ]}
          onChange={setWax}
          error={saving.errorAt('wax')}
        />
      </div>
      <LimitsShown kind={kind} wax={wax} />
      <details open={low !== null || ceiling !== null || grams !== null}>
        <summary>{t('stations.own')}</summary>
        <p class="dim">{t('stations.own-hint')}</p>
        <div class="pair">
          <TemperatureEntry
            label="stations.own-low"
            celsius={low}
            onCelsius={setLow}
            error={saving.errorAt('window_celsius')}
          />
          <TemperatureEntry label="stations.own-high" celsius={high} onCelsius={setHigh} />
          {STATION_KIND_FACTS[kind].ceiling !== null && (
            <TemperatureEntry
              label="stations.own-ceiling"
              celsius={ceiling}
              onCelsius={setCeiling}
              error={saving.errorAt('ceiling_celsius')}
            />
          )}
          {holdsMeltedWax(kind) && (
            <NumberEntry
              label="stations.grams"
              min={1}
              max={20_000}
              value={grams}
              onChange={setGrams}
              error={saving.errorAt('charge_grams')}
            />
          )}
        </div>
        {station !== null && (
          <TextEntry label="set-up.reason" maxLength={500} value={reason} onChange={setReason} />
        )}
      </details>
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      <p class="row">
        <button type="submit" class="act" data-first="true" disabled={saving.busy}>
          {t(save)}
        </button>
        {onCancel && (
          <button type="button" class="act" onClick={onCancel}>
            {t('form.cancel')}
          </button>
        )}
      </p>
    </form>
  );
};
