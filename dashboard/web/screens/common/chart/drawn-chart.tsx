// A chart as an SVG that can be printed: the shapes of the layout, styled by their role.

import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Chart } from '../../../../charts/chart.ts';
import {
  type ChartFrame,
  type ChartShape,
  dashOf,
  layOutChart,
  leastHeight,
} from '../../../../charts/lay-out-chart.ts';
import { isPhoneWide } from '../../../base/phone-wide.ts';
import './drawn-chart.css';

const MEAN_RADIUS = 2.5;
/** Of a desk and of a phone, in units of the drawing, so that its letters stay readable on both. */
const DESK = { width: 960, names: 180, tickSize: 13, nameSize: 15 };
const PHONE = { width: 380, names: 132, tickSize: 12, nameSize: 13 };
const LEFT = 44;
const TOP = 22;
const RIGHT = 8;
const FOOT = 26;
const TITLE_HEIGHT = 17;

/** CSS pixels of a place; in a narrower one the letters of a desk's drawing would be too small to read. */
const NARROW = 640;

/** The size that suits the place of the drawing, on whatever screen; that of the page counts until it is measured. */
const useFittingSize = () => {
  const place = useRef<SVGSVGElement>(null);
  const [width, setWidth] = useState(isPhoneWide.value ? PHONE.width : DESK.width);
  useLayoutEffect(() => {
    if (place.current === null) return () => undefined;
    const observer = new ResizeObserver(([entry]) => {
      const measured = Math.round(entry?.contentRect.width ?? 0);
      if (measured > 0) setWidth(measured);
    });
    observer.observe(place.current);
    return () => observer.disconnect();
  }, []);
  return { place, size: width < NARROW ? { ...PHONE, width: Math.max(PHONE.width, width) } : DESK };
};

const frameOf = (chart: Chart, height: number, size: typeof DESK): ChartFrame => {
  const hasNames = chart.series.some(({ name }) => name !== '');
  const foot = chart.x.title === '' ? FOOT : FOOT + TITLE_HEIGHT;
  const frame = { ...size, height, left: LEFT, top: TOP, foot, names: hasNames ? size.names : RIGHT };
  return { ...frame, height: leastHeight(chart, frame) };
};

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
      {...(shape.role === 'range' || shape.role === 'sign' ? { 'data-tone': shape.tone } : {})}
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
  /** In units of the drawing, of which a desk is 960 wide. */
  readonly height: number;
}

export const DrawnChart = ({ chart, height }: DrawnChartProps) => {
  const { place, size } = useFittingSize();
  const frame = frameOf(chart, height, size);
  return (
    <svg
      ref={place}
      class="drawn-chart"
      viewBox={`0 0 ${frame.width} ${frame.height}`}
      preserveAspectRatio="xMinYMid meet"
      data-size={size === DESK ? 'desk' : 'phone'}
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
