// The chart in figures: for those who do not see it, and for those who want the numbers.

import type { AlarmView, ReadingsView } from '../../../api/schemas.ts';
import { spanFigures } from '../../../charts/temperature-history.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatInstant, formatTemperature } from '../../base/format.ts';
import { ruleName, t } from '../../base/messages.ts';
import { now, reader } from '../../live/lab-state.ts';
import { markOf, toneOf } from '../../base/face.ts';
import { Mark } from '../../base/marks.tsx';

interface SummaryProps {
  readonly readings: readonly ReadingsView[];
  readonly alarms: readonly AlarmView[];
  readonly from: number;
  readonly to: number;
}

const cells = (readings: ReadingsView) => {
  const figures = spanFigures(readings);
  if (figures === null) return [readings.probe, t('chart.nothing')];
  const { min, mean, max, count, gaps } = figures;
  return [
    readings.probe,
    ...[min, mean, max].map((celsius) => formatTemperature(celsius, reader.value)),
    count,
    gaps,
  ];
};

export const SpanSummary = ({ readings, alarms, from, to }: SummaryProps) => (
  <>
    <p class="dim">
      {t('chart.span', {
        from: formatInstant(from, now.value, reader.value),
        to: formatInstant(to, now.value, reader.value),
      })}{' '}
      {t('chart.band')}
    </p>
    <DataTable
      columns={[
        t('probes.probe'),
        { figures: t('chart.least') },
        { figures: t('chart.mean') },
        { figures: t('chart.most') },
        { figures: t('chart.count') },
        { figures: t('chart.gaps') },
      ]}
      rows={readings.map((ofProbe) => ({ key: ofProbe.probe, cells: cells(ofProbe) }))}
    />
    {alarms.length > 0 && (
      <ul class="span-alarms">
        {alarms.map((alarm) => (
          <li key={alarm.id} data-tone={toneOf(alarm.priority)}>
            <Mark name={markOf(alarm.priority)} />
            <time dateTime={alarm.raisedAt}>{formatInstant(alarm.raisedAt, now.value, reader.value)}</time>
            <span>
              {ruleName(alarm.rule)} · {alarm.message}
            </span>
          </li>
        ))}
      </ul>
    )}
  </>
);
