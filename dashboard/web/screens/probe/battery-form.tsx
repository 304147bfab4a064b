// At which voltage the battery of a probe is low, from the data sheet of its device; empty: volts are not judged.

import { useState } from 'preact/hooks';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import { t } from '../../base/messages.ts';
import { SubmitRow, useSaving } from '../../forms/saving.tsx';
import { NumberField } from '../../forms/schema-fields.tsx';
import { submitWith } from '../../forms/submit-with.ts';
import { labChanged } from '../../live/use-loaded.ts';
import { type ProbeFormProps, probeBody } from '../set-up/probe-body.ts';
import { putProbe } from '../set-up/put-probe.ts';

export const BatteryForm = ({ probe, version, onSaved, onCancel }: ProbeFormProps) => {
  const saving = useSaving();
  const [volts, setVolts] = useState<number | null>(probe.battery_low_volts ?? null);
  const { battery_low_volts: _, ...rest } = probeBody(probe);
  return (
    <form
      onSubmit={submitWith(() => {
        void saving.run(
          () => putProbe(probe, version, { ...rest, ...(volts !== null && { battery_low_volts: volts }) }),
          () => {
            labChanged();
            onSaved(probe);
          },
        );
      })}
    >
      <p class="dim">{t('probe-page.battery-explain')}</p>
      <NumberField
        form={{ fields: FORM_FIELDS.probe, saving }}
        at="battery_low_volts"
        label="probe-page.battery-low-volts"
        value={volts}
        onChange={setVolts}
      />
      <SubmitRow saving={saving} label="set-up.save" isFirst onCancel={onCancel} />
    </form>
  );
};
