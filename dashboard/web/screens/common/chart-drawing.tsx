// The chart of a station: mean line, band from lowest to highest of each bucket, window shaded, ceiling as a hard
// line, alarms as upright lines. The library draws; nothing is computed here. It is a large script: whoever shows a
// chart shows temperature-chart.tsx, which loads this after the page.

import { useSignalEffect } from '@preact/signals';
import {
  Chart,
  type ChartDataset,
  type ChartOptions,
  Filler,
  LinearScale,
  LineController,
  LineElement,
  PointElement,
  Tooltip,
} from 'chart.js';
import Annotation, { type AnnotationOptions } from 'chartjs-plugin-annotation';
import { useEffect, useRef } from 'preact/hooks';
import type { AlarmView, ReadingsView, StationView } from '../../../api/schemas.ts';
import { formatDay, formatInstant, formatNumber, formatTime, inUnit, unitMark } from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { theme } from '../../base/settings.ts';
import { now, reader } from '../../live/lab-state.ts';
import { toneOf } from '../../base/face.ts';
import { chartSeries, type Point } from './chart-series.ts';
import { axisTicks, tickStep } from './span.ts';

Chart.register(LineController, LineElement, PointElement, LinearScale, Filler, Tooltip, Annotation);

const token = (name: string): string =>
  getComputedStyle(document.documentElement).getPropertyValue(`--${name}`).trim();

/** Canvas text knows no rem. */
const typeSize = (rems: number): number =>
  rems * Number.parseFloat(getComputedStyle(document.documentElement).fontSize);

/** More labels than this would lie over each other. */
const MOST_LABELS = 6;
const DAY_MILLIS = 86_400_000;

export interface ChartProps {
  readonly station: Pick<StationView, 'name' | 'windowLow' | 'windowHigh' | 'ceiling'>;
  readonly readings: readonly ReadingsView[];
  readonly alarms: readonly AlarmView[];
  readonly from: number;
  readonly to: number;
}

const convert = (celsius: number): number => inUnit(celsius, reader.value.unit);

const datasets = (readings: readonly ReadingsView[]): ChartDataset<'line', Point[]>[] =>
  readings.flatMap((one, index) => {
    const series = chartSeries(one, convert);
    const hidden = { borderWidth: 0, pointRadius: 0, pointHitRadius: 0 };
    return [
      { ...hidden, label: `${one.probe}-`, data: [...series.min] },
      {
        ...hidden,
        label: `${one.probe}+`,
        data: [...series.max],
        fill: '-1',
        backgroundColor: `${token('edge')}44`,
      },
      {
        label: one.probe,
        data: [...series.mean],
        borderColor: token('ink'),
        borderWidth: 2,
        borderDash: index === 0 ? [] : [6, 3 * index],
        pointRadius: series.mean.length < 3 ? 3 : 0,
        pointHitRadius: 12,
      },
    ];
  });

const annotations = ({ station, alarms, from, to }: ChartProps): Record<string, AnnotationOptions> => {
  const { windowLow, windowHigh, ceiling } = station;
  const font = { family: token('type'), size: typeSize(0.82), weight: 600 } as const;
  const marks: Record<string, AnnotationOptions> & {
    window?: AnnotationOptions;
    ceiling?: AnnotationOptions;
  } = {};
  if (windowHigh)
    marks.window = {
      type: 'box',
      ...(windowLow ? { yMin: convert(windowLow.value) } : {}),
      yMax: convert(windowHigh.value),
      backgroundColor: token('lane'),
      borderColor: token('edge'),
      borderWidth: 1,
      drawTime: 'beforeDatasetsDraw',
    };
  if (ceiling)
    marks.ceiling = {
      type: 'line',
      yMin: convert(ceiling.value),
      yMax: convert(ceiling.value),
      borderColor: token('ink'),
      borderWidth: 3,
      label: {
        display: true,
        content: t('station.ceiling'),
        position: 'start',
        yAdjust: -11,
        backgroundColor: 'transparent',
        color: token('ink'),
        font,
      },
    };
  const within = alarms.filter((alarm) => {
    const at = Date.parse(alarm.raisedAt);
    return at >= from && at <= to;
  });
  for (const [index, alarm] of within.entries()) {
    const tone = toneOf(alarm.priority);
    marks[alarm.id] = {
      type: 'line',
      xMin: Date.parse(alarm.raisedAt),
      xMax: Date.parse(alarm.raisedAt),
      borderColor: tone === 'calm' || tone === 'absent' ? token('dim') : token(tone),
      borderWidth: 2,
      borderDash: [5, 4],
      label: {
        display: within.length <= MOST_LABELS,
        content: word('rule', alarm.rule),
        position: 'end',
        yAdjust: (index % 3) * 22,
        backgroundColor: tone === 'calm' || tone === 'absent' ? token('lane') : token(`${tone}-fill`),
        color: tone === 'calm' || tone === 'absent' ? token('ink') : token('on-fill'),
        font,
      },
    };
  }
  return marks;
};

const options = (props: ChartProps): ChartOptions<'line'> => {
  const { from, to } = props;
  const grid = { color: token('lane') };
  const ticks = { color: token('dim'), font: { family: token('type'), size: typeSize(0.875) } };
  const step = tickStep(to - from);
  const highest = props.station.ceiling ?? props.station.windowHigh;
  return {
    animation: false,
    responsive: true,
    maintainAspectRatio: false,
    parsing: false,
    normalized: true,
    locale: reader.value.language,
    interaction: { mode: 'nearest', axis: 'x', intersect: false },
    scales: {
      x: {
        type: 'linear',
        min: from,
        max: to,
        grid,
        afterBuildTicks: (axis) => {
          axis.ticks = axisTicks(from, to, reader.peek().timeZone).map((value) => ({ value }));
        },
        ticks: {
          ...ticks,
          maxRotation: 0,
          callback: (value) =>
            step >= DAY_MILLIS
              ? formatDay(Number(value), reader.value)
              : formatTime(Number(value), reader.value),
        },
      },
      y: {
        grid,
        ticks: {
          ...ticks,
          // Storage moves by tenths: whole degrees would then say the same twice.
          callback: (value, _index, all) => {
            const isFine = all.some((tick) => !Number.isInteger(tick.value));
            return formatNumber(Number(value), isFine ? 1 : 0, reader.value);
          },
        },
        title: { display: true, text: unitMark(reader.value.unit), color: token('dim'), font: ticks.font },
        ...(highest ? { suggestedMax: convert(highest.value) + 2 } : {}),
      },
    },
    plugins: {
      tooltip: {
        filter: (item) => !/[-+]$/.test(item.dataset.label ?? ''),
        callbacks: {
          title: (items) => formatInstant(items[0]?.parsed.x ?? from, now.peek(), reader.peek()),
          label: (item) =>
            `${item.dataset.label}: ${formatNumber(item.parsed.y ?? 0, 1, reader.peek())} ${unitMark(reader.peek().unit)}`,
        },
      },
      annotation: { annotations: annotations(props) },
    },
  };
};

export const ChartDrawing = (props: ChartProps) => {
  const canvas = useRef<HTMLCanvasElement>(null);
  const chart = useRef<Chart<'line', Point[]> | null>(null);
  const draw = (): void => {
    if (!canvas.current) return;
    const data = { datasets: datasets(props.readings) };
    if (chart.current) {
      chart.current.data = data;
      chart.current.options = options(props);
      chart.current.update('none');
    } else chart.current = new Chart(canvas.current, { type: 'line', data, options: options(props) });
  };
  useEffect(draw);
  // The tokens change with the theme only after this frame.
  useSignalEffect(() => {
    theme.value;
    requestAnimationFrame(draw);
  });
  useEffect(
    () => () => {
      chart.current?.destroy();
      chart.current = null;
    },
    [],
  );
  return <canvas ref={canvas} role="img" aria-label={t('chart.label', { station: props.station.name })} />;
};
