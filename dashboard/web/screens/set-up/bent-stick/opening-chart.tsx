// Opening over hours: the readings as marks, the fitted curve of each stick with its 95 % band, and the key to both.

import { stickOpeningChart } from '../../../../charts/stick-opening.ts';
import type { BentStickView } from '../../../../api/bent-stick.ts';
import { formatTemperature } from '../../../base/format.ts';
import { t } from '../../../base/messages.ts';
import { now, reader } from '../../../live/lab-state.ts';
import { chartFormats } from '../../common/chart/chart-formats.ts';
import { ChartPlace } from '../../common/chart/chart-place.tsx';
import { LineSample } from '../../common/chart/drawn-chart.tsx';

export const OpeningChart = ({ fit }: { readonly fit: BentStickView }) => {
  const chart = stickOpeningChart(fit, chartFormats(reader.value, now.peek()), {
    label: t('bent-stick.chart'),
    hours: t('bent-stick.hours'),
    millimetres: t('bent-stick.millimetres'),
    stick: (number, celsius) =>
      t('bent-stick.line', { number, temperature: formatTemperature(celsius, reader.value) }),
  });
  return (
    <figure class="opening-chart">
      <ChartPlace chart={chart} />
      <figcaption>
        {chart.series.map(({ name, style }) => (
          <span key={style}>
            <LineSample style={style} />
            {name}
          </span>
        ))}
        <span>{t('bent-stick.band')}</span>
      </figcaption>
    </figure>
  );
};
