// A chart as an SVG that can be printed: the shapes of the layout, styled by their role.

import type { Chart } from '../../../charts/chart.ts';
import {
  type ChartFrame,
  type ChartShape,
  dashOf,
  layOutChart,
  leastHeight,
} from '../../../charts/lay-out-chart.ts';
import { isPocket } from '../../base/wide.ts';
import './drawn-chart.css';

const MEAN_RADIUS = 2.5;
const LETTERS = { tickSize: 13, nameSize: 15 } as const;

/** In units of the drawing, so that its letters stay readable on a phone. */
const frameOf = (height: number, hasNames: boolean): ChartFrame => ({
  ...LETTERS,
  ...(isPocket.value ? { width: 430, names: hasNames ? 150 : 8 } : { width: 960, names: hasNames ? 180 : 8 }),
  height,
  left: 44,
  top: 22,
  foot: 26,
});

const Shape = ({ shape }: { readonly shape: ChartShape }) => {
  if (shape.kind === 'circle') return <circle class="chart-mean" cx={shape.x} cy={shape.y} r={MEAN_RADIUS} />;
  if (shape.kind === 'text')
    return (
      <text class={`chart-${shape.role}`} x={shape.x} y={shape.y} text-anchor={shape.anchor}>
        {shape.text}
      </text>
    );
  return (
    <path
      class={`chart-${shape.role}`}
      d={shape.d}
      {...(shape.role === 'line' ? { 'stroke-dasharray': dashOf(shape.style).join(' ') } : {})}
      {...(shape.role === 'range' ? { 'data-tone': shape.tone } : {})}
    >
      {shape.role === 'line' && shape.name !== '' && <title>{shape.name}</title>}
    </path>
  );
};

/** A shape that moved is another one. */
const keyOf = (shape: ChartShape): string =>
  shape.kind === 'path' ? shape.role + shape.d : `${shape.kind}${shape.x} ${shape.y}`;

interface DrawnChartProps {
  readonly chart: Chart;
  readonly height: number;
  /** Names of the lines beside their ends. */
  readonly hasNames?: boolean;
}

export const DrawnChart = ({ chart, height, hasNames = false }: DrawnChartProps) => {
  const asked = frameOf(height, hasNames);
  const titled = chart.x.title === '' ? asked : { ...asked, foot: asked.foot + LETTERS.tickSize * 1.3 };
  const frame = hasNames ? { ...titled, height: leastHeight(chart, titled) } : titled;
  return (
    <svg
      class="drawn-chart"
      viewBox={`0 0 ${frame.width} ${frame.height}`}
      role="img"
      aria-label={chart.label}
    >
      {layOutChart(chart, frame).map((shape) => (
        <Shape key={keyOf(shape)} shape={shape} />
      ))}
    </svg>
  );
};

/** A piece of a line as it looks in the chart, for a key beside it. */
export const LineSample = ({ style }: { readonly style: number }) => (
  <svg class="line-sample" viewBox="0 0 40 6" aria-hidden="true">
    <path class="chart-line" d="M1 3H39" stroke-dasharray={dashOf(style).join(' ')} />
  </svg>
);
