// Charts as SVG text: panels with axes, bands, lines and points. The same input gives the same bytes, so that a test
// can tell whether a saved plot is stale. Scales and shapes are a library's; the drawing is plain and prints well.

import { scaleLinear, scaleLog } from 'd3-scale';
import { area, curveLinear, curveStepAfter, line } from 'd3-shape';

export interface Axis {
  readonly label: string;
  readonly domain: readonly [number, number];
  readonly log?: boolean;
  readonly ticks?: readonly number[];
}

export interface Line {
  readonly label: string;
  readonly points: readonly (readonly [x: number, y: number])[];
  readonly dashed?: boolean;
  readonly step?: boolean;
  /** Index into the colours; by default the order of the lines. */
  readonly colour?: number;
  /** Where the label is: at the end of the line, or nowhere. */
  readonly quiet?: boolean;
}

export interface Band {
  readonly points: readonly (readonly [x: number, low: number, high: number])[];
  readonly step?: boolean;
  readonly colour?: number;
}

export interface Panel {
  readonly title: string;
  readonly x: Axis;
  readonly y: Axis;
  readonly lines: readonly Line[];
  readonly bands?: readonly Band[];
  readonly dots?: readonly {
    readonly points: readonly (readonly [number, number])[];
    readonly colour: number;
  }[];
}

export interface Figure {
  readonly title: string;
  /** For people who do not see it. */
  readonly description: string;
  readonly columns: number;
  readonly panels: readonly Panel[];
  readonly panelWidth?: number;
  readonly panelHeight?: number;
}

/** Okabe and Ito's colours, told apart by most people; dashes and labels carry the meaning too. */
const COLOURS = ['#0072b2', '#d55e00', '#009e73', '#cc79a7', '#56b4e9', '#e69f00'];
const colour = (index: number): string => COLOURS[index % COLOURS.length] ?? '#000000';

const MARGIN = { left: 62, right: 118, top: 34, bottom: 46 };
const INK = '#1a1a1a';
const FAINT = '#d9d9d9';

const text = (words: string): string =>
  words.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
const at = (value: number): string => value.toFixed(1);

export function figureSvg({
  title,
  description,
  columns,
  panels,
  panelWidth = 640,
  panelHeight = 380,
}: Figure): string {
  const rows = Math.ceil(panels.length / columns);
  const [width, height] = [panelWidth * columns, panelHeight * rows + 34];
  const drawn = panels.map(
    (panel, i) =>
      `<g transform="translate(${(i % columns) * panelWidth} ${34 + Math.floor(i / columns) * panelHeight})">\n${drawPanel(panel, panelWidth, panelHeight)}\n</g>`,
  );
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-labelledby="title description" font-family="system-ui, sans-serif" font-size="13" fill="${INK}">
<title id="title">${text(title)}</title>
<desc id="description">${text(description)}</desc>
<rect width="${width}" height="${height}" fill="#ffffff"/>
<text x="16" y="24" font-size="16" font-weight="600">${text(title)}</text>
${drawn.join('\n')}
</svg>
`;
}

function drawPanel(panel: Panel, width: number, height: number): string {
  const labelled = panel.lines.some(({ quiet, label }) => quiet !== true && label !== '');
  const right = labelled ? MARGIN.right : 20;
  const x = scaleOf(panel.x, [MARGIN.left, width - right]);
  const y = scaleOf(panel.y, [height - MARGIN.bottom, MARGIN.top]);
  const id = `clip-${panel.title.toLowerCase().replaceAll(/[^a-z0-9]+/g, '-')}`;
  const [x0, x1, y0, y1] = [MARGIN.left, width - right, height - MARGIN.bottom, MARGIN.top];
  const marks = [
    ...(panel.bands ?? []).map((band, i) => {
      const path = area<readonly [number, number, number]>()
        .x((point) => x(point[0]))
        .y0((point) => y(point[1]))
        .y1((point) => y(point[2]))
        .curve(band.step === true ? curveStepAfter : curveLinear)
        .digits(1)([...band.points]);
      return `<path d="${path ?? ''}" fill="${colour(band.colour ?? i)}" fill-opacity="0.18"/>`;
    }),
    ...panel.lines.map((series, i) => {
      const path = line<readonly [number, number]>()
        .x((point) => x(point[0]))
        .y((point) => y(point[1]))
        .curve(series.step === true ? curveStepAfter : curveLinear)
        .digits(1)([...series.points]);
      const dash = series.dashed === true ? ' stroke-dasharray="6 4"' : '';
      return `<path d="${path ?? ''}" fill="none" stroke="${colour(series.colour ?? i)}" stroke-width="2"${dash}/>`;
    }),
    ...(panel.dots ?? []).flatMap((dots) =>
      dots.points.map(
        (point) =>
          `<circle cx="${at(x(point[0]))}" cy="${at(y(point[1]))}" r="3.5" fill="${colour(dots.colour)}"/>`,
      ),
    ),
  ];
  return [
    `<clipPath id="${id}"><rect x="${x0}" y="${y1 - 1}" width="${x1 - x0}" height="${y0 - y1 + 2}"/></clipPath>`,
    `<text x="${x0}" y="${MARGIN.top - 12}" font-weight="600">${text(panel.title)}</text>`,
    ...ticksOf(panel.x).map(
      (tick) =>
        `<line x1="${at(x(tick))}" x2="${at(x(tick))}" y1="${y1}" y2="${y0}" stroke="${FAINT}"/><text x="${at(x(tick))}" y="${y0 + 18}" text-anchor="middle">${label(tick)}</text>`,
    ),
    ...ticksOf(panel.y).map(
      (tick) =>
        `<line x1="${x0}" x2="${x1}" y1="${at(y(tick))}" y2="${at(y(tick))}" stroke="${FAINT}"/><text x="${x0 - 8}" y="${at(y(tick) + 4)}" text-anchor="end">${label(tick)}</text>`,
    ),
    `<path d="M${x0} ${y1}V${y0}H${x1}" fill="none" stroke="${INK}"/>`,
    `<text x="${at((x0 + x1) / 2)}" y="${height - 8}" text-anchor="middle">${text(panel.x.label)}</text>`,
    `<text transform="translate(16 ${at((y0 + y1) / 2)}) rotate(-90)" text-anchor="middle">${text(panel.y.label)}</text>`,
    `<g clip-path="url(#${id})">`,
    ...marks,
    '</g>',
    ...endLabels(panel, x, y, y1, y0),
  ].join('\n');
}

const scaleOf = ({ domain, log }: Axis, range: [number, number]) =>
  (log === true ? scaleLog() : scaleLinear()).domain([...domain]).range(range);

const ticksOf = (axis: Axis): readonly number[] =>
  axis.ticks ??
  scaleLinear()
    .domain([...axis.domain])
    .ticks(6);

const label = (value: number): string => String(Number(value.toPrecision(6)));

/** Labels at the ends of the lines, pushed apart so that none covers another. */
function endLabels(
  panel: Panel,
  x: (value: number) => number,
  y: (value: number) => number,
  top: number,
  bottom: number,
): string[] {
  const wanted = panel.lines
    .flatMap((series, i) => {
      const visible = series.points.filter(
        ([px, py]) =>
          px >= panel.x.domain[0] &&
          px <= panel.x.domain[1] &&
          py >= panel.y.domain[0] &&
          py <= panel.y.domain[1],
      );
      const end = visible.at(-1);
      return end === undefined || series.quiet === true || series.label === ''
        ? []
        : [{ words: series.label, left: x(end[0]) + 6, up: y(end[1]) + 4, ink: colour(series.colour ?? i) }];
    })
    .sort((a, b) => a.up - b.up);
  let last = top - 12;
  const placed = wanted.map((label) => {
    last = Math.max(label.up, last + 16);
    return { ...label, up: last };
  });
  const over = Math.max(0, last - bottom);
  return placed.map(
    ({ words, left, up, ink }) =>
      `<text x="${at(left)}" y="${at(up - over)}" fill="${ink}" font-weight="600">${text(words)}</text>`,
  );
}
