// At which voltage the battery of a probe is low, from the data sheet of its device; empty: volts are not judged.

import { FORM_FIELDS } from '../../../api/form-fields.ts';
import { t } from '../../base/messages.ts';
import { SubmitRow } from '../../forms/saving.tsx';
import { NumberField } from '../../forms/schema-fields.tsx';
import { submitWith } from '../../forms/submit-with.ts';
import { useForm } from '../../forms/use-form.ts';
import { labChanged } from '../../live/use-loaded.ts';
import { type ProbeFormProps, probeBody } from '../set-up/probe-body.ts';
import { putProbe } from '../set-up/put-probe.ts';

export const BatteryForm = ({ probe, version, onSaved, onCancel }: ProbeFormProps) => {
  const { battery_low_volts: before = null, ...rest } = probeBody(probe);
  const { saving, draft, field } = useForm(FORM_FIELDS.probe, { battery_low_volts: before });
  const { battery_low_volts: volts } = draft;
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
      <NumberField {...field('battery_low_volts')} label="probe-page.battery-low-volts" />
      <SubmitRow saving={saving} label="set-up.save" isFirst onCancel={onCancel} />
    </form>
  );
};
