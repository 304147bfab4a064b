// Where everything of a chart lies in a frame of a given size: paths, circles and texts, which a screen paints as SVG and
// the night sheet on paper. One layout, so that both show the same. Pure.

import type { Chart, ChartAxis, ChartPoint, ChartSeries } from './chart.ts';

/** All lengths in the same unit: that of the frame. */
export interface ChartFrame {
  readonly width: number;
  readonly height: number;
  /** Room for the numbers on the left, the title above, the ticks below and the names of the lines on the right. */
  readonly left: number;
  readonly top: number;
  readonly foot: number;
  readonly names: number;
  /** Heights of letters. */
  readonly tickSize: number;
  readonly nameSize: number;
}

export type ChartShape =
  | { readonly kind: 'path'; readonly role: 'grid' | 'limit' | 'window' | 'band'; readonly d: string }
  | {
      readonly kind: 'path';
      readonly role: 'line';
      readonly d: string;
      readonly style: number;
      readonly name: string;
    }
  | { readonly kind: 'path'; readonly role: 'range'; readonly d: string; readonly tone: string }
  | { readonly kind: 'path'; readonly role: 'sign'; readonly d: string; readonly tone: string }
  | { readonly kind: 'circle'; readonly x: number; readonly y: number }
  | {
      readonly kind: 'text';
      readonly role: 'tick' | 'name';
      /** Of the foot of the letters. */
      readonly x: number;
      readonly y: number;
      readonly text: string;
      readonly anchor: 'start' | 'middle' | 'end';
    };

/** Strokes and the pauses between them, of each line style; a further series begins again. */
const LINE_DASHES: readonly (readonly number[])[] = [[], [9, 4], [2, 3], [12, 4, 2, 4], [18, 4]];
export const dashOf = (style: number): readonly number[] => LINE_DASHES[style % LINE_DASHES.length] ?? [];

/** Half the width of the sign of a verdict, and its distance from the bar below it. */
const SIGN = 4.5;
const SIGN_GAP = 6;

/** The verdict of a bar by its shape as well as its tone: an open diamond, a cross; none for one that is plain. */
const signAbove = ({ tone }: Chart['ranges'][number], x: number, top: number): readonly ChartShape[] => {
  if (tone === 'plain') return [];
  const y = top - SIGN_GAP - SIGN;
  const [left, right, up, down] = [x - SIGN, x + SIGN, y - SIGN, y + SIGN].map((value) => value.toFixed(1));
  const d =
    tone === 'medium'
      ? `M${x.toFixed(1)} ${up}L${right} ${y.toFixed(1)}L${x.toFixed(1)} ${down}L${left} ${y.toFixed(1)}Z`
      : `M${left} ${up}L${right} ${down}M${right} ${up}L${left} ${down}`;
  return [{ kind: 'path', role: 'sign', tone, d }];
};

/** Width of a letter over its height, on the safe side. */
const LETTER_WIDTH = 0.6;

interface Scales {
  readonly x: (value: number) => number;
  readonly y: (value: number) => number;
  readonly right: number;
  readonly bottom: number;
}

const scalesOf = (chart: Chart, frame: ChartFrame): Scales => {
  const [right, bottom] = [frame.width - frame.names, frame.height - frame.foot];
  const along =
    ({ low, high }: ChartAxis, from: number, to: number) =>
    (value: number) =>
      from + ((value - low) / (high - low || 1)) * (to - from);
  return { x: along(chart.x, frame.left, right), y: along(chart.y, bottom, frame.top), right, bottom };
};

const place = (value: number): string => value.toFixed(1);

/** The path of a line that is lifted at gaps; a point alone between two gaps is drawn as a dot of the line's width. */
export const linePath = (points: readonly ChartPoint[], { x, y }: Pick<Scales, 'x' | 'y'>): string => {
  let isDown = false;
  return points
    .map((point, index) => {
      if (point.y === null) {
        isDown = false;
        return '';
      }
      const at = `${place(x(point.x))} ${place(y(point.y))}`;
      const isAlone = !isDown && (points[index + 1]?.y ?? null) === null;
      const step = `${isDown ? 'L' : 'M'}${at}${isAlone ? `L${at}` : ''}`;
      isDown = true;
      return step;
    })
    .join('');
};

const grid = (chart: Chart, frame: ChartFrame, { x, y, right, bottom }: Scales): readonly ChartShape[] => {
  const { left, top, tickSize } = frame;
  const rows = chart.y.ticks.flatMap(({ value, text }): readonly ChartShape[] => [
    {
      kind: 'path',
      role: 'grid',
      d: `M${place(left)} ${place(y(value))}L${place(right)} ${place(y(value))}`,
    },
    { kind: 'text', role: 'tick', x: left - tickSize / 2, y: y(value) + tickSize / 3, text, anchor: 'end' },
  ]);
  let free = Number.NEGATIVE_INFINITY;
  const columns = chart.x.ticks.flatMap(({ value, text }): readonly ChartShape[] => {
    const at = x(value);
    const half = (text.length * tickSize * LETTER_WIDTH) / 2;
    // The words of a tick at the edge stay within the frame.
    const middle = Math.min(at, frame.width - half);
    const line: ChartShape = {
      kind: 'path',
      role: 'grid',
      d: `M${place(at)} ${place(top)}L${place(at)} ${place(bottom)}`,
    };
    // Where words would touch, every other one is enough.
    if (middle - half < free) return [line];
    free = middle + half;
    return [
      line,
      { kind: 'text', role: 'tick', x: middle, y: bottom + tickSize * 1.3, text, anchor: 'middle' },
    ];
  });
  const titles: readonly ChartShape[] = [
    { kind: 'text', role: 'tick', x: 0, y: top - tickSize / 2, text: chart.y.title, anchor: 'start' },
    { kind: 'text', role: 'tick', x: right, y: bottom + tickSize * 2.7, text: chart.x.title, anchor: 'end' },
  ];
  return [...rows, ...columns, ...titles.filter((title) => title.kind !== 'text' || title.text !== '')];
};

const limits = (chart: Chart, frame: ChartFrame, { y, right }: Scales): readonly ChartShape[] =>
  chart.limits.flatMap((limit): readonly ChartShape[] => [
    {
      kind: 'path',
      role: 'limit',
      d: `M${place(frame.left)} ${place(y(limit.y))}L${place(right)} ${place(y(limit.y))}`,
    },
    {
      kind: 'text',
      role: 'tick',
      x: frame.left + frame.tickSize / 2,
      y: y(limit.y) - frame.tickSize / 2.5,
      text: limit.text,
      anchor: 'start',
    },
  ]);

const lastValue = ({ points }: ChartSeries): number | null =>
  points.findLast((point) => point.y !== null)?.y ?? null;

/** Names beside the ends of the lines, moved apart where they would touch, each with a piece of its line. */
const names = (chart: Chart, frame: ChartFrame, { y, right, bottom }: Scales): readonly ChartShape[] => {
  const { top, nameSize } = frame;
  const gap = nameSize * 1.25;
  const ends = chart.series
    .flatMap((series) => {
      const value = lastValue(series);
      return value === null || series.name === '' ? [] : [{ series, end: y(value) }];
    })
    .sort((upper, lower) => upper.end - lower.end);
  let free = top + nameSize / 3;
  const heights = ends.map(({ end }, index) => {
    // What is still to come below needs its room above the foot.
    const at = Math.max(free, Math.min(end, bottom - gap * (ends.length - 1 - index)));
    free = at + gap;
    return at;
  });
  return ends.flatMap(({ series }, index): readonly ChartShape[] => {
    const at = heights[index] ?? top;
    const [from, to] = [right + nameSize / 2, right + nameSize * 2.2];
    return [
      {
        kind: 'path',
        role: 'line',
        name: series.name,
        style: series.style,
        d: `M${place(from)} ${place(at)}L${place(to)} ${place(at)}`,
      },
      {
        kind: 'text',
        role: 'name',
        x: to + nameSize / 2,
        y: at + nameSize / 3,
        text: series.name,
        anchor: 'start',
      },
    ];
  });
};

/** The working window as an area; without a lower end it reaches the foot. */
const workingWindow = (
  chart: Chart,
  frame: ChartFrame,
  { y, right, bottom }: Scales,
): readonly ChartShape[] => {
  if (chart.window === null) return [];
  const { low, high } = chart.window;
  const [upper, lower] = [place(y(high)), place(low === null ? bottom : y(low))];
  const [left, end] = [place(frame.left), place(right)];
  return [{ kind: 'path', role: 'window', d: `M${left} ${upper}H${end}V${lower}H${left}Z` }];
};

/** Shapes in the order in which they are painted. */
export const layOutChart = (chart: Chart, frame: ChartFrame): readonly ChartShape[] => {
  const scales = scalesOf(chart, frame);
  const { x, y } = scales;
  return [
    ...workingWindow(chart, frame, scales),
    ...grid(chart, frame, scales),
    ...limits(chart, frame, scales),
    ...chart.ranges.flatMap((range): readonly ChartShape[] => [
      {
        kind: 'path',
        role: 'range',
        tone: range.tone,
        d: `M${place(x(range.x))} ${place(y(range.low))}L${place(x(range.x))} ${place(y(range.high))}`,
      },
      ...(range.mark === null ? [] : [{ kind: 'circle' as const, x: x(range.x), y: y(range.mark) }]),
      ...signAbove(range, x(range.x), y(range.high)),
    ]),
    ...chart.series.map(
      ({ name, points, style }): ChartShape => ({
        kind: 'path',
        role: 'line',
        name,
        style,
        d: linePath(points, scales),
      }),
    ),
    ...names(chart, frame, scales),
  ];
};

/** Least height at which the names of all series have room. */
export const leastHeight = (chart: Chart, frame: ChartFrame): number =>
  Math.max(frame.height, frame.top + frame.foot + chart.series.length * frame.nameSize * 1.25);
