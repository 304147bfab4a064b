// The page of the bench: the figures as tables, and for each fault that was not seen in time its temperatures with
// window, ceiling, the fault's span and every alarm. One file that needs nothing else.

import { scaleLinear, scaleUtc } from 'd3-scale';
import { line } from 'd3-shape';
import type { CaseStation, LabelledCase } from '../../simulators/cases/case.ts';
import { MILLIS_PER_HOUR } from '../../wax/units.ts';
import type { CaseDetails } from './details.ts';
import type { Figure } from './figures.ts';
import type { Beginning } from './run-case.ts';
import type { ScoredFault } from './score-case.ts';

const WIDTH = 900;
const HEIGHT = 300;
const MARGIN = { top: 14, right: 14, bottom: 44, left: 44 };
/** Points of a line on the page; what lies between two is drawn by its extremes. */
const MOST_POINTS = 700;
const BEFORE_MILLIS = 6 * MILLIS_PER_HOUR;
const AFTER_MILLIS = 2 * MILLIS_PER_HOUR;
const INKS = ['#7a3b12', '#1f6f6b', '#6b4fa0', '#8a6d00'];

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');

type Point = readonly [at: number, celsius: number];

/** The lowest and the highest of each stretch, in order of time. */
function thinned(points: readonly Point[]): readonly Point[] {
  if (points.length <= MOST_POINTS) return points;
  const stretch = Math.ceil((2 * points.length) / MOST_POINTS);
  const kept: Point[] = [];
  for (let from = 0; from < points.length; from += stretch) {
    const some = points.slice(from, from + stretch);
    const low = some.reduce((a, b) => (b[1] < a[1] ? b : a));
    const high = some.reduce((a, b) => (b[1] > a[1] ? b : a));
    kept.push(...(low === high ? [low] : low[0] < high[0] ? [low, high] : [high, low]));
  }
  return kept;
}

const pointsOf = (
  { readings, probes }: LabelledCase,
  probe: string,
  from: number,
  to: number,
): readonly Point[] => {
  const index = probes.indexOf(probe);
  const points: Point[] = [];
  for (let row = 0; row < readings.at.length; row += 1) {
    const at = readings.receivedAt[row] ?? 0;
    if (readings.probe[row] === index && at >= from && at <= to)
      points.push([at, readings.celsius[row] ?? 0]);
  }
  return points;
};

const limitsOf = ({ window_celsius: window, ceiling_celsius: ceiling, set_celsius: set }: CaseStation) => [
  ...(window === undefined
    ? []
    : [
        { celsius: window[0], name: 'low' },
        { celsius: window[1], name: 'high' },
      ]),
  ...(set === null ? [] : [{ celsius: set, name: 'set' }]),
  ...(ceiling == null || ceiling === window?.[1] ? [] : [{ celsius: ceiling, name: 'ceiling' }]),
];

const isAbout = (station: CaseStation, { subject, subjectKind }: Beginning): boolean =>
  subject === station.id ||
  subjectKind === 'site' ||
  station.probes.some(({ id, gateway }) => id === subject || gateway === subject);

/** None where the station is not one of the case. */
function plot(labelled: LabelledCase, fault: ScoredFault, alarms: readonly Beginning[]): string {
  const station = labelled.stations.find(
    ({ id, probes }) =>
      id === fault.station ||
      probes.some((probe) => probe.id === fault.station || probe.gateway === fault.station),
  );
  if (station === undefined) return '';
  const from = Math.max(labelled.starts, fault.begins - BEFORE_MILLIS);
  const to = Math.min(labelled.ends, Math.max(fault.ends, fault.harm ?? 0) + AFTER_MILLIS);
  const lines = station.probes.map(({ id }) => thinned(pointsOf(labelled, id, from, to)));
  const limits = limitsOf(station);
  const heights = [...lines.flat().map(([, celsius]) => celsius), ...limits.map(({ celsius }) => celsius)];
  const x = scaleUtc([from, to], [MARGIN.left, WIDTH - MARGIN.right]);
  const y = scaleLinear(
    [Math.min(...heights) - 1, Math.max(...heights) + 1],
    [HEIGHT - MARGIN.bottom, MARGIN.top],
  ).nice();
  const path = line<Point>(
    ([at]) => x(at),
    ([, celsius]) => y(celsius),
  );
  const floor = HEIGHT - MARGIN.bottom;
  const at = (millis: number) => x(millis).toFixed(1);
  const shown = alarms.filter((alarm) => isAbout(station, alarm) && alarm.at >= from && alarm.at <= to);
  return `<svg viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="${escaped(station.id)}">
<rect class="span" x="${at(fault.begins)}" y="${MARGIN.top}" width="${(x(fault.ends) - x(fault.begins)).toFixed(1)}" height="${floor - MARGIN.top}"/>
${y
  .ticks(6)
  .map(
    (tick) =>
      `<path class="grid" d="M${MARGIN.left} ${y(tick).toFixed(1)}H${WIDTH - MARGIN.right}"/><text x="${MARGIN.left - 6}" y="${(y(tick) + 4).toFixed(1)}" text-anchor="end">${tick}</text>`,
  )
  .join('')}
${x
  .ticks(8)
  .map(
    (tick) =>
      `<text x="${x(tick).toFixed(1)}" y="${floor + 16}" text-anchor="middle">${x.tickFormat(8)(tick)}</text>`,
  )
  .join('')}
${limits
  .map(
    ({ celsius, name }) =>
      `<path class="limit ${name}" d="M${MARGIN.left} ${y(celsius).toFixed(1)}H${WIDTH - MARGIN.right}"/><text x="${WIDTH - MARGIN.right}" y="${(y(celsius) - 3).toFixed(1)}" text-anchor="end">${name} ${celsius}</text>`,
  )
  .join('')}
${lines.map((points, index) => `<path class="line" stroke="${INKS[index % INKS.length]}" d="${path(points) ?? ''}"/>`).join('')}
${fault.harm === null ? '' : `<path class="harm" d="M${at(fault.harm)} ${MARGIN.top}V${floor}"/><text x="${at(fault.harm)}" y="${MARGIN.top + 10}">harm</text>`}
${shown
  .map(
    (alarm, index) =>
      `<path class="alarm" d="M${at(alarm.at)} ${floor}l-5 9h10z"/><text x="${at(alarm.at)}" y="${floor + 28 + (index % 2) * 11}" text-anchor="middle">${alarm.rule}</text>`,
  )
  .join('')}
</svg>`;
}

/** A figure for each fault of the case that did harm unseen. */
export const missPlot = (labelled: LabelledCase, { score, beginnings }: CaseDetails): readonly string[] =>
  score.faults
    .filter(({ outcome, harm }) => harm !== null && outcome !== 'found')
    .map((fault) => {
      const first =
        fault.first === null
          ? 'No alarm.'
          : `First alarm ${fault.first.rule}, ${fault.delayMinutes?.toFixed(1)} min after it began.`;
      return `<figure><figcaption><b>${escaped(fault.fault)}</b> at ${escaped(fault.station)}: ${fault.outcome}. ${first} <i>${escaped(labelled.name)}</i></figcaption>${plot(labelled, fault, beginnings)}</figure>`;
    });

const shown = ({ value, unit }: Figure): string => {
  if (value === null) return 'none';
  return unit === 'share' ? `${(100 * value).toFixed(1)} %` : String(Math.round(value * 100) / 100);
};

const COLUMNS = [
  'found-share',
  'told-share',
  'lead-median',
  'lead-tenth-percentile',
  'delay-median',
  'right-cause-share',
  'late-share',
  'never-share',
] as const;

function table(figures: readonly Figure[]): string {
  const faults = [...new Set(figures.map(({ fault }) => fault))];
  const row = (fault: string | undefined): string => {
    const cells = COLUMNS.map((name) => figures.find((one) => one.name === name && one.fault === fault));
    const n = cells[0]?.n ?? 0;
    return `<tr><th>${escaped(fault ?? 'all')}</th><td>${n}</td>${cells.map((cell) => `<td>${cell ? shown(cell) : ''}</td>`).join('')}</tr>`;
  };
  return `<table><thead><tr><th>fault</th><th>with harm</th>${COLUMNS.map((name) => `<th>${name}</th>`).join('')}</tr></thead><tbody>${faults.map(row).join('')}</tbody></table>`;
}

const nuisances = (figures: readonly Figure[]): string =>
  `<table><tbody>${figures
    .filter(({ name }) => name.startsWith('nuisance') || name === 'chattering')
    .map((one) => `<tr><th>${escaped(one.rule ?? one.name)}</th><td>${shown(one)} ${one.unit}</td></tr>`)
    .join('')}</tbody></table>`;

const STYLE = `body{font:15px/1.45 Georgia,serif;color:#2b2118;background:#fbf7ef;max-width:980px;margin:2rem auto;padding:0 1rem}
table{border-collapse:collapse;font-size:13px;margin:1rem 0}th,td{padding:3px 8px;border-bottom:1px solid #d9cbb3;text-align:right}th:first-child{text-align:left}
figure{margin:1.6rem 0}svg{width:100%;background:#fffdf8;border:1px solid #d9cbb3;font:11px Georgia,serif}
.span{fill:#f3d9b8}.grid{stroke:#ece2d0}.limit{stroke:#8d7f68;stroke-dasharray:5 4}.ceiling{stroke:#a3261b}.harm{stroke:#a3261b;stroke-width:1.5}.alarm{fill:#a3261b}.line{fill:none;stroke-width:1.3}`;

export const page = (
  figures: readonly Figure[],
  plots: readonly string[],
  cases: readonly unknown[],
): string =>
  `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Faults and alarms</title><style>${STYLE}</style>
<h1>What the watch saw of ${cases.length} cases</h1>${table(figures)}<h2>At stations in good order</h2>${nuisances(figures)}
<h2>Not seen before harm: ${plots.length}</h2>${plots.join('\n')}</html>\n`;
