// The span in figures: for those who do not see the chart, and for those who want the number.

import type { AlarmView, ReadingsView } from '../../api/schemas.ts';
import { formatInstant, formatTemperature } from '../frame/format.ts';
import { t, word } from '../frame/messages.ts';
import { now, reader } from '../live/lab-state.ts';
import { markOf, toneOf } from '../look/face.ts';
import { Mark } from '../look/marks.tsx';
import { spanFigures } from './chart-series.ts';

interface SummaryProps {
  readonly readings: readonly ReadingsView[];
  readonly alarms: readonly AlarmView[];
  readonly from: number;
  readonly to: number;
}

const ProbeRow = ({ readings }: { readonly readings: ReadingsView }) => {
  const figures = spanFigures(readings);
  return (
    <tr>
      <th scope="row">{readings.probe}</th>
      {figures === null ? (
        <td colSpan={5}>{t('chart.nothing')}</td>
      ) : (
        <>
          <td>{formatTemperature(figures.min, reader.value)}</td>
          <td>{formatTemperature(figures.mean, reader.value)}</td>
          <td>{formatTemperature(figures.max, reader.value)}</td>
          <td>{figures.count}</td>
          <td>{figures.gaps}</td>
        </>
      )}
    </tr>
  );
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
    <div class="table-wrap">
      <table>
        <thead>
          <tr>
            <th scope="col">{t('probes.probe')}</th>
            <th scope="col">{t('chart.least')}</th>
            <th scope="col">{t('chart.mean')}</th>
            <th scope="col">{t('chart.most')}</th>
            <th scope="col">{t('chart.count')}</th>
            <th scope="col">{t('chart.gaps')}</th>
          </tr>
        </thead>
        <tbody>
          {readings.map((one) => (
            <ProbeRow key={one.probe} readings={one} />
          ))}
        </tbody>
      </table>
    </div>
    {alarms.length > 0 && (
      <ul class="span-alarms">
        {alarms.map((alarm) => (
          <li key={alarm.id} data-tone={toneOf(alarm.priority)}>
            <Mark name={markOf(alarm.priority)} />
            <time dateTime={alarm.raisedAt}>{formatInstant(alarm.raisedAt, now.value, reader.value)}</time>
            <span>
              {word('rule', alarm.rule)} · {alarm.message}
            </span>
          </li>
        ))}
      </ul>
    )}
  </>
);
