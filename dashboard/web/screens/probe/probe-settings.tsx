// What the lab says of the probe: what its sensor is, its calibration, and when its battery is low. One form is open at a time.

import { useState } from 'preact/hooks';
import type { ProbeView } from '../../../api/schemas.ts';
import { ActButton } from '../../base/act-button.tsx';
import { t } from '../../base/messages.ts';
import { Refusal } from '../../forms/saving.tsx';
import { noteDone } from '../../forms/undo.tsx';
import { useLab } from '../../live/use-loaded.ts';
import { CalibrationForm } from '../set-up/calibration-form.tsx';
import type { DescribedProbe } from '../set-up/probe-body.ts';
import { putProbe } from '../set-up/put-probe.ts';
import { BatteryForm } from './battery-form.tsx';
import { SensorForm } from './sensor-form.tsx';

export const ProbeSettings = ({ probe }: { readonly probe: ProbeView }) => {
  const lab = useLab();
  const [open, setOpen] = useState<'sensor' | 'calibration' | 'battery' | null>(null);
  const described: DescribedProbe = lab.value?.probes.find(({ id }) => id === probe.id) ?? {
    id: probe.id,
    gateway: probe.gateway,
  };
  const saved = (text: string) => (before: DescribedProbe, version: number) => {
    setOpen(null);
    noteDone(text, () => putProbe(before, version));
  };
  const close = () => setOpen(null);
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
      {lab.value && open === 'calibration' && (
        <CalibrationForm
          probe={described}
          version={lab.value.version}
          onSaved={saved(t('calibration.saved'))}
          onCancel={close}
        />
      )}
      {lab.value && open === 'sensor' && (
        <SensorForm
          probe={described}
          version={lab.value.version}
          onSaved={saved(t('sensor.saved'))}
          onCancel={close}
        />
      )}
      {lab.value && open === 'battery' && (
        <BatteryForm
          probe={described}
          version={lab.value.version}
          onSaved={saved(t('probe-page.battery-limit-saved'))}
          onCancel={close}
        />
      )}
    </section>
  );
};
