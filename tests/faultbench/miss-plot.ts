// A fault that was not seen in time, drawn: temperatures, window, ceiling, the fault's span and every alarm.

import { scaleLinear, scaleUtc } from 'd3-scale';
import { line } from 'd3-shape';
import type { CaseStation, LabelledCase } from '../../simulators/cases/case.ts';
import type { Lab } from '../../lab/lab.ts';
import { stationLimits } from '../../lab/limits.ts';
import { MILLIS_PER_HOUR } from '../../wax/units.ts';
import type { JudgedCase } from './judge-case.ts';
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

export const escapeMarkup = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');

/** Day and time by UTC, as the files of a case have them. */
const clock = (at: Date): string => at.toISOString().slice(5, 16).replace('T', ' ');

type Point = readonly [at: number, celsius: number];

/** The lowest and the highest of each stretch, in order of time. */
function thinOut(points: readonly Point[]): readonly Point[] {
  if (points.length <= MOST_POINTS) return points;
  const stretch = Math.ceil((2 * points.length) / MOST_POINTS);
  const drawn: Point[] = [];
  for (let from = 0; from < points.length; from += stretch) {
    const some = points.slice(from, from + stretch);
    const low = some.reduce((a, b) => (b[1] < a[1] ? b : a));
    const high = some.reduce((a, b) => (b[1] > a[1] ? b : a));
    drawn.push(...(low === high ? [low] : low[0] < high[0] ? [low, high] : [high, low]));
  }
  return drawn;
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

/** As the lab entered them or its wax class has them: what the watch judged by. */
function limitsOf(id: string, lab: Lab): readonly { readonly celsius: number; readonly name: string }[] {
  const station = lab.stations.find((candidate) => candidate.id === id);
  if (station === undefined) return [];
  const { windowLow, windowHigh, ceiling, storageMax } = stationLimits(station, lab);
  const found = { low: windowLow, high: storageMax ?? windowHigh, ceiling };
  return Object.entries(found).flatMap(([name, limit]) =>
    limit === null ? [] : [{ celsius: limit.value, name }],
  );
}

const isAbout = (station: CaseStation, { subject, subjectKind }: Beginning): boolean =>
  subject === station.id ||
  subjectKind === 'site' ||
  station.probes.some(({ id, gateway }) => id === subject || gateway === subject);

/** None where the station is not one of the case. */
function plot(labelled: LabelledCase, fault: ScoredFault, { lab, beginnings }: JudgedCase): string {
  const station = labelled.stations.find(
    ({ id, probes }) =>
      id === fault.station ||
      probes.some((probe) => probe.id === fault.station || probe.gateway === fault.station),
  );
  if (station === undefined) return '';
  const from = Math.max(labelled.starts, fault.begins - BEFORE_MILLIS);
  const to = Math.min(labelled.ends, Math.max(fault.ends, fault.harm ?? 0) + AFTER_MILLIS);
  const lines = station.probes.map(({ id }) => thinOut(pointsOf(labelled, id, from, to)));
  const limits = limitsOf(station.id, lab);
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
  const shown = beginnings.filter((alarm) => isAbout(station, alarm) && alarm.at >= from && alarm.at <= to);
  return `<svg viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="${escapeMarkup(station.id)}">
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
    (tick) => `<text x="${x(tick).toFixed(1)}" y="${floor + 16}" text-anchor="middle">${clock(tick)}</text>`,
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
export const missPlots = (labelled: LabelledCase, judged: JudgedCase): readonly string[] =>
  judged.score.faults
    .filter(({ outcome, harm }) => harm !== null && outcome !== 'found')
    .map((fault) => {
      const first =
        fault.first === null
          ? 'No alarm.'
          : `First alarm ${fault.first.rule}, ${fault.delayMinutes?.toFixed(1)} min after it began.`;
      return `<figure><figcaption><b>${escapeMarkup(fault.fault)}</b> at ${escapeMarkup(fault.station)}: ${fault.outcome}. ${first} <i>${escapeMarkup(labelled.name)}</i></figcaption>${plot(labelled, fault, judged)}</figure>`;
    });
