// A chart that answers a pointer, drawn on a canvas by the chart library; nothing is computed here. It is a large script:
// whoever shows a chart shows chart-place.tsx, which loads this after the page.

import { useSignalEffect } from '@preact/signals';
import {
  Chart as Canvas,
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
import type {
  BandPoint,
  Chart,
  ChartAxis,
  ChartEvent,
  ChartPoint,
  ChartSeries,
} from '../../../../charts/chart.ts';
import { dashOf } from '../../../../charts/lay-out-chart.ts';
import { theme } from '../../../base/settings.ts';

Canvas.register(LineController, LineElement, PointElement, LinearScale, Filler, Tooltip, Annotation);

const token = (name: string): string =>
  getComputedStyle(document.documentElement).getPropertyValue(`--${name}`).trim();

/** Canvas text takes no rem. */
const typeSize = (rems: number): number =>
  rems * Number.parseFloat(getComputedStyle(document.documentElement).fontSize);

/** More labels than this would lie over each other. */
const MOST_LABELS = 6;
/** Flags of events near each other are in rows above the plot. */
const FLAG_ROWS = 3;
const FLAG_PIXELS = 24;
const FLAG_MARGIN_PIXELS = 8;
/** Over the height of the letters, on the safe side. */
const LETTER_WIDTH = 0.5;
/** Fewer points than this make no line to be seen. */
const LEAST_LINE_POINTS = 3;
const MARKS = ['circle', 'rect', 'triangle', 'rectRot'] as const;

type Line = ChartDataset<'line', ChartPoint[]>;

const bandLines = (band: readonly BandPoint[]): Line[] => {
  if (band.length === 0) return [];
  const hidden = { borderWidth: 0, pointRadius: 0, pointHitRadius: 0 };
  return [
    { ...hidden, data: band.map(({ x, low }) => ({ x, y: low })) },
    {
      ...hidden,
      data: band.map(({ x, high }) => ({ x, y: high })),
      fill: '-1',
      backgroundColor: `${token('edge')}44`,
    },
  ];
};

/** Only lines and marks have a label, and only what has one is read out. */
const linesOf = ({ name, points, band, dots, style }: ChartSeries): Line[] => [
  ...bandLines(band),
  {
    label: name,
    data: [...points],
    borderColor: token('ink'),
    borderWidth: 2,
    borderDash: [...dashOf(style)],
    pointRadius: points.length < LEAST_LINE_POINTS ? 3 : 0,
    pointHitRadius: 12,
  },
  ...(dots.length === 0
    ? []
    : [
        {
          label: name,
          data: [...dots],
          showLine: false,
          pointStyle: MARKS[style % MARKS.length] ?? 'circle',
          pointRadius: 5,
          borderColor: token('ink'),
          backgroundColor: token('card'),
        },
      ]),
];

const eventLine = ({ x, text, tone }: ChartEvent, index: number, isLabelled: boolean): AnnotationOptions => ({
  type: 'line',
  xMin: x,
  xMax: x,
  borderColor: token(tone === 'plain' ? 'dim' : tone),
  borderWidth: 2,
  borderDash: [5, 4],
  label: {
    display: isLabelled,
    content: text,
    position: 'end',
    // Above the plot, so that no flag covers the peak that it is about.
    yAdjust: -FLAG_PIXELS * (0.5 + (index % FLAG_ROWS)),
    backgroundColor: token(tone === 'plain' ? 'lane' : `${tone}-fill`),
    color: token(tone === 'plain' ? 'ink' : 'on-fill'),
    font: labelFont(),
    xAdjust: ({ chart }) => intoCanvas(chart, x, text),
  },
});

/** Pixels by which a flag at `x` must move to be whole. */
const intoCanvas = (chart: Canvas, x: number, text: string): number => {
  const middle = chart.scales.x?.getPixelForValue(x) ?? 0;
  const half = (text.length * typeSize(0.82) * LETTER_WIDTH) / 2 + FLAG_MARGIN_PIXELS;
  return Math.max(0, half - middle) - Math.max(0, middle + half - chart.width);
};

const labelFont = () => ({ family: token('type'), size: typeSize(0.82), weight: 600 }) as const;

const hasFlags = (events: Chart['events']): boolean => events.length <= MOST_LABELS;

const annotationsOf = ({ window, limits, events }: Chart): Record<string, AnnotationOptions> => {
  const shaded: AnnotationOptions | null = window && {
    type: 'box',
    ...(window.low === null ? {} : { yMin: window.low }),
    yMax: window.high,
    backgroundColor: token('lane'),
    borderColor: token('edge'),
    borderWidth: 1,
    drawTime: 'beforeDatasetsDraw',
  };
  const levels = limits.map(({ y, text }): [string, AnnotationOptions] => [
    `limit-${y}`,
    {
      type: 'line',
      yMin: y,
      yMax: y,
      borderColor: token('ink'),
      borderWidth: 3,
      label: {
        display: true,
        content: text,
        position: 'start',
        yAdjust: -11,
        backgroundColor: 'transparent',
        color: token('ink'),
        font: labelFont(),
      },
    },
  ]);
  return {
    ...(shaded === null ? {} : { window: shaded }),
    ...Object.fromEntries(levels),
    ...Object.fromEntries(
      events.map((event, index) => [event.id, eventLine(event, index, hasFlags(events))]),
    ),
  };
};

const scaleOf = ({ low, high, ticks, title }: ChartAxis) => {
  const font = { family: token('type'), size: typeSize(0.875) };
  return {
    type: 'linear' as const,
    min: low,
    max: high,
    grid: { color: token('lane') },
    afterBuildTicks: (axis: { ticks: { value: number; major?: boolean }[] }) => {
      axis.ticks = ticks.map(({ value, isMain = false }) => ({ value, major: isMain }));
    },
    ticks: {
      major: { enabled: true },
      color: token('dim'),
      font,
      maxRotation: 0,
      callback: (value: number | string) => ticks.find((tick) => tick.value === value)?.text ?? '',
    },
    title: { display: title !== '', text: title, color: token('dim'), font },
  };
};

const optionsOf = (chart: Chart): ChartOptions<'line'> => ({
  animation: false,
  responsive: true,
  maintainAspectRatio: false,
  parsing: false,
  normalized: true,
  interaction: { mode: 'nearest', axis: 'x', intersect: false },
  scales: { x: scaleOf(chart.x), y: scaleOf(chart.y) },
  layout: {
    padding: { top: hasFlags(chart.events) ? FLAG_PIXELS * Math.min(FLAG_ROWS, chart.events.length) : 0 },
  },
  plugins: {
    tooltip: {
      filter: ({ dataset }) => dataset.label !== undefined,
      callbacks: {
        title: (items) => chart.x.textOf(items[0]?.parsed.x ?? chart.x.low),
        label: ({ dataset, parsed }) => `${dataset.label}: ${chart.y.textOf(parsed.y ?? 0)}`,
      },
    },
    annotation: { clip: false, annotations: annotationsOf(chart) },
  },
});

export const InteractiveChart = ({ chart }: { readonly chart: Chart }) => {
  const element = useRef<HTMLCanvasElement>(null);
  const canvas = useRef<Canvas<'line', ChartPoint[]> | null>(null);
  const draw = (): void => {
    if (!element.current) return;
    const data = { datasets: chart.series.flatMap(linesOf) };
    if (canvas.current) {
      canvas.current.data = data;
      canvas.current.options = optionsOf(chart);
      canvas.current.update('none');
    } else canvas.current = new Canvas(element.current, { type: 'line', data, options: optionsOf(chart) });
  };
  useEffect(draw);
  // The tokens change with the theme only after this frame.
  useSignalEffect(() => {
    theme.value;
    requestAnimationFrame(draw);
  });
  useEffect(() => {
    // The page is put on paper before another frame comes.
    addEventListener('beforeprint', draw);
    return () => removeEventListener('beforeprint', draw);
  });
  useEffect(
    () => () => {
      canvas.current?.destroy();
      canvas.current = null;
    },
    [],
  );
  return <canvas ref={element} role="img" aria-label={chart.label} />;
};
