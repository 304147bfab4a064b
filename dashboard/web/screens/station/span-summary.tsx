// The chart in figures: for those who do not see it, and for those who want the numbers.

import type { AlarmView, ReadingsView } from '../../../api/schemas.ts';
import { spanFigures } from '../../../charts/temperature-history.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatTemperature } from '../../base/format.ts';
import { ruleName, t } from '../../base/messages.ts';
import { reader } from '../../live/lab-state.ts';
import { markOf, toneOf } from '../../base/face.ts';
import { Mark } from '../../base/marks.tsx';
import { instantText } from '../../live/instant-text.ts';

interface SummaryProps {
  readonly readings: readonly ReadingsView[];
  readonly alarms: readonly AlarmView[];
  readonly from: number;
  readonly to: number;
}

export const SpanSummary = ({ readings, alarms, from, to }: SummaryProps) => (
  <>
    <p class="dim">
      {t('chart.span', { from: instantText(from), to: instantText(to) })} {t('chart.band')}
    </p>
    <DataTable
      rows={readings.map((ofProbe) => ({ probe: ofProbe.probe, figures: spanFigures(ofProbe) }))}
      keyOf={({ probe }) => probe}
      columns={{
        [t('probes.probe')]: ({ probe }) => probe,
        [t('chart.least')]: {
          figures: ({ figures }) =>
            figures === null ? t('chart.nothing') : formatTemperature(figures.min, reader.value),
        },
        [t('chart.mean')]: {
          figures: ({ figures }) => figures && formatTemperature(figures.mean, reader.value),
        },
        [t('chart.most')]: {
          figures: ({ figures }) => figures && formatTemperature(figures.max, reader.value),
        },
        [t('chart.count')]: { figures: ({ figures }) => figures?.count },
        [t('chart.gaps')]: { figures: ({ figures }) => figures?.gaps },
      }}
    />
    {alarms.length > 0 && (
      <ul class="span-alarms">
        {alarms.map((alarm) => (
          <li key={alarm.id} data-tone={toneOf(alarm.priority)}>
            <Mark name={markOf(alarm.priority)} />
            <time dateTime={alarm.raisedAt}>{instantText(alarm.raisedAt)}</time>
            <span>
              {ruleName(alarm.rule)} · {alarm.message}
            </span>
          </li>
        ))}
      </ul>
    )}
  </>
);
