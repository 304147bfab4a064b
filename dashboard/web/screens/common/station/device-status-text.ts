// Battery and radio signal of a device in one line, as far as it reports them.

import type { ProbeView } from '../../../../api/schemas.ts';
import { formatNumber, formatPercent } from '../../../base/format.ts';
import { t } from '../../../base/messages.ts';
import { reader } from '../../../live/lab-state.ts';

type Reported = Pick<NonNullable<ProbeView['status']>, 'battery_percent' | 'battery_volts' | 'signal_dbm'>;

/** @example deviceStatusText({ battery_percent: 64, battery_volts: null, signal_dbm: -71 }) // 'Battery: 64% · Signal: −71 dBm' */
export const deviceStatusText = ({ battery_percent, battery_volts, signal_dbm }: Reported): string =>
  [
    ...(battery_percent === null
      ? []
      : [t('probe-page.battery', { charge: formatPercent(battery_percent / 100, reader.value) })]),
    ...(battery_volts === null
      ? []
      : [t('probe-page.battery-volts', { volts: formatNumber(battery_volts, 2, reader.value) })]),
    ...(signal_dbm === null
      ? []
      : [t('probe-page.signal', { signal: formatNumber(signal_dbm, 0, reader.value) })]),
  ].join(' · ');
