// The night of the storage places in one picture; the tables below show the same in figures.

import { storageNightChart } from '../../../charts/storage-night.ts';
import type { NightSheet } from '../../../api/night.ts';
import type { Reader } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { chartFormats } from '../common/chart/chart-formats.ts';
import { DrawnChart } from '../common/chart/drawn-chart.tsx';

const HEIGHT = 240;

export const NightChart = ({ sheet, zoned }: { readonly sheet: NightSheet; readonly zoned: Reader }) => {
  const [from, to] = [Date.parse(sheet.from), Date.parse(sheet.to)];
  const chart = storageNightChart({ places: sheet.places, from, to }, chartFormats(zoned, to), {
    label: (places) => t('night.chart', { places }),
    limit: (limit) => t('night.limit', { limit }),
  });
  return chart && <DrawnChart chart={chart} height={HEIGHT} />;
};
