// The heat dose of a charge since it was filled, against its allowance. The figures are beside it in words.

import { heatDoseChart } from '../../../charts/heat-dose.ts';
import type { DoseCurveView } from '../../../api/charges.ts';
import { t } from '../../base/messages.ts';
import { now, reader } from '../../live/lab-state.ts';
import { chartFormats } from '../common/chart/chart-formats.ts';
import { DrawnChart } from '../common/chart/drawn-chart.tsx';

const HEIGHT = 190;

export const DoseChart = (props: { readonly course: DoseCurveView; readonly name: string }) => {
  const chart = heatDoseChart(props.course, chartFormats(reader.value, now.peek()), {
    label: t('work.dose-chart', { charge: props.name }),
    axis: t('work.dose-axis'),
    allowance: t('work.allowance'),
  });
  return chart && <DrawnChart chart={chart} height={HEIGHT} />;
};
