// One station: its name, kind and wax, the limits that follow, and the lab's own values over them.

import { useState } from 'preact/hooks';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import type { LabView, StationBody } from '../../../api/lab-bodies.ts';
import {
  heats,
  holdsMeltedWax,
  isThermostatic,
  STATION_KIND_FACTS,
  STATION_KINDS,
} from '../../../../lab/station-kinds.ts';
import { asRead, put } from '../../base/api.ts';
import { type MessageKey, t } from '../../base/messages.ts';
import { SubmitRow } from '../../forms/saving.tsx';
import { ChoiceField, fieldsOf, NumberField, TextField } from '../../forms/schema-fields.tsx';
import { stationId } from '../../forms/station-id.ts';
import { labChanged } from '../../live/use-loaded.ts';
import { LimitsShown } from './limits-shown.tsx';
import { submitWith } from '../../forms/submit-with.ts';
import { type FormPart, useForm } from '../../forms/use-form.ts';

export type DescribedStation = LabView['stations'][number];

export const stationBody = ({ id: _, ...body }: DescribedStation) => body;

/** A station as it is in the form: an empty field is null or an empty text. */
interface Draft {
  readonly name: string;
  readonly kind: DescribedStation['kind'];
  readonly wax: NonNullable<DescribedStation['wax']> | '';
  readonly low: number | null;
  readonly high: number | null;
  readonly ceiling: number | null;
  readonly grams: number | null;
  readonly watts: number | null;
  readonly readyBy: string;
  readonly reason: string;
}

const draftOf = (station: DescribedStation | null): Draft => ({
  name: station?.name ?? '',
  kind: station?.kind ?? STATION_KINDS[0],
  wax: station?.wax ?? '',
  low: station?.window_celsius?.[0] ?? null,
  high: station?.window_celsius?.[1] ?? null,
  ceiling: station?.ceiling_celsius ?? null,
  grams: station?.charge_grams ?? null,
  watts: station?.heater_watts ?? null,
  readyBy: station?.ready_by ?? '',
  reason: '',
});

const takesCeiling = ({ kind }: Draft): boolean => STATION_KIND_FACTS[kind].ceiling !== null;

/** What the form does not show of the station, its rules, stays as it was. */
const bodyOf = (draft: Draft, before: DescribedStation | null): StationBody => {
  const { name, kind, wax, low, high, ceiling, grams, watts, readyBy, reason } = draft;
  return {
    name: name.trim(),
    kind,
    ...(wax !== '' && { wax }),
    ...(low !== null && high !== null && { window_celsius: [low, high] }),
    ...(ceiling !== null && takesCeiling(draft) && { ceiling_celsius: ceiling }),
    ...(grams !== null && holdsMeltedWax(kind) && { charge_grams: grams }),
    ...(watts !== null && heats(kind) && { heater_watts: watts }),
    ...(readyBy !== '' && isThermostatic(kind) && { ready_by: readyBy }),
    ...(before?.rules !== undefined && { rules: before.rules }),
    ...(reason !== '' && { reason }),
  };
};

type StationPart = FormPart<Draft>;

const hasOwnValues = ({ low, ceiling, grams, watts, readyBy }: Draft): boolean =>
  [low, ceiling, grams, watts].some((value) => value !== null) || readyBy !== '';

const OwnValues = ({ form, draft, onChange, isNew }: StationPart & { readonly isNew: boolean }) => {
  // It stays open when the last of them is emptied.
  const [isOpen] = useState(hasOwnValues(draft));
  const field = fieldsOf(form, draft, onChange);
  // What is wrong with the window as a whole is shown at its first field.
  const ofWindow = form.saving.errorAt('window_celsius');
  return (
    <details open={isOpen}>
      <summary>{t('stations.own')}</summary>
      <p class="dim">{t('stations.own-hint')}</p>
      <div class="pair">
        <NumberField
          {...field('low', 'window_celsius/0')}
          label="stations.own-low"
          isRequired={false}
          error={ofWindow?.detail ?? null}
        />
        <NumberField {...field('high', 'window_celsius/1')} label="stations.own-high" isRequired={false} />
        {takesCeiling(draft) && (
          <NumberField {...field('ceiling', 'ceiling_celsius')} label="stations.own-ceiling" />
        )}
        {holdsMeltedWax(draft.kind) && (
          <NumberField {...field('grams', 'charge_grams')} label="stations.grams" />
        )}
        {heats(draft.kind) && (
          <NumberField
            {...field('watts', 'heater_watts')}
            label="stations.watts"
            hint={t('stations.watts-hint')}
          />
        )}
        {isThermostatic(draft.kind) && (
          <TextField
            {...field('readyBy', 'ready_by')}
            type="time"
            label="station.ready-by"
            hint={t('stations.ready-by-hint')}
          />
        )}
      </div>
      {!isNew && <TextField {...field('reason')} label="set-up.reason" />}
    </details>
  );
};

const NameAndWax = ({ form, draft, onChange }: StationPart) => {
  const field = fieldsOf(form, draft, onChange);
  return (
    <>
      <TextField {...field('name')} label="stations.name" hint={t('stations.name-hint')} />
      <div class="pair">
        <ChoiceField {...field('kind')} label="stations.kind" words="kind" />
        <ChoiceField {...field('wax')} label="station.wax" words="wax" none="station.no-wax" />
      </div>
    </>
  );
};

interface StationFormProps {
  /** Null for a new one. */
  readonly station: DescribedStation | null;
  /** Of the lab that it was read with. */
  readonly version: number;
  readonly taken: readonly string[];
  readonly save: MessageKey;
  readonly onSaved: (id: string) => void;
  readonly onCancel?: () => void;
}

export const StationForm = (props: StationFormProps) => {
  const { station, version, taken, save, onSaved, onCancel } = props;
  const { saving, draft, part } = useForm(FORM_FIELDS.station, () => draftOf(station));
  const submit = (): void => {
    const id = station?.id ?? stationId(draft.name, taken);
    void saving.run(
      () => put(`/api/stations/${id}`, bodyOf(draft, station), asRead(version)),
      () => {
        labChanged();
        onSaved(id);
      },
    );
  };
  return (
    <form onSubmit={submitWith(submit)}>
      <NameAndWax {...part} />
      <LimitsShown kind={draft.kind} wax={draft.wax} />
      <OwnValues {...part} isNew={station === null} />
      <SubmitRow saving={saving} label={save} isFirst {...(onCancel && { onCancel })} />
    </form>
  );
};
