// What the lab enters for the probe: what its sensor is, its calibration, and when its battery is low. One form is open
// at a time.

import { useState } from 'preact/hooks';
import type { ProbeView } from '../../../api/schemas.ts';
import { ActButton } from '../../base/act-button.tsx';
import { t } from '../../base/messages.ts';
import { OpenedForm } from '../../forms/opened-form.tsx';
import { Refusal } from '../../forms/saving.tsx';
import { noteDone } from '../../forms/undo.tsx';
import { useLab } from '../../live/use-loaded.ts';
import { CalibrationForm } from '../set-up/calibration-form.tsx';
import { describeProbe } from '../set-up/probe-body.ts';
import { putProbe } from '../set-up/put-probe.ts';
import { BatteryForm } from './battery-form.tsx';
import { SensorForm } from './sensor-form.tsx';

const FORMS = {
  calibration: { Form: CalibrationForm, saved: 'calibration.saved' },
  sensor: { Form: SensorForm, saved: 'sensor.saved' },
  battery: { Form: BatteryForm, saved: 'probe-page.battery-limit-saved' },
} as const;

export const ProbeSettings = ({ probe }: { readonly probe: ProbeView }) => {
  const lab = useLab();
  const [open, setOpen] = useState<keyof typeof FORMS | null>(null);
  const described = describeProbe(lab.value?.probes ?? [], probe);
  return (
    <section>
      <h2>{t('probe-page.settings')}</h2>
      <Refusal trouble={lab.trouble} retry={lab.reload} />
      {lab.value && open === null && (
        <p class="row">
          <ActButton text={t('calibration.open')} onClick={() => setOpen('calibration')} />
          <ActButton text={t('sensor.open')} onClick={() => setOpen('sensor')} />
          {(probe.status?.battery_volts ?? described.battery_low_volts ?? null) !== null && (
            <ActButton text={t('probe-page.battery-limit')} onClick={() => setOpen('battery')} />
          )}
        </p>
      )}
      {lab.value && open !== null && (
        <OpenedForm key={open} newest={lab.value.version}>
          {({ version }) => {
            const { Form, saved } = FORMS[open];
            return (
              <Form
                probe={described}
                version={version}
                onSaved={(before) => {
                  setOpen(null);
                  noteDone(t(saved), () => putProbe(before, version));
                }}
                onCancel={() => setOpen(null)}
              />
            );
          }}
        </OpenedForm>
      )}
    </section>
  );
};
