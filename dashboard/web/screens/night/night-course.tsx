// The night of the storage places as one drawing: true scales, the limit as a line, a gap left open. The tables below
// say the same in figures.

import type { NightSheet, PlaceLine } from '../../../api/night.ts';
import {
  formatLimit,
  formatTemperature,
  formatTime,
  inUnit,
  type Reader,
  unitMark,
} from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { isPocket } from '../../base/wide.ts';
import { axisTicks } from '../common/span.ts';
import { tickText } from '../common/night-days.ts';
import { courseLine, degreeLines } from '../common/course-line.ts';

const HEIGHT = 240;
const LEFT = 44;
const TOP = 12;
const FOOT = 24;
const HEADROOM = 0.12;
const STYLES = 5;
const DAY_MILLIS = 86_400_000;

/** In units of the drawing, so that its letters stay readable on a phone. */
const sizeOf = () => (isPocket.value ? { width: 430, names: 150 } : { width: 960, names: 170 });

const scaleOf = (sheet: NightSheet, places: readonly PlaceLine[]) => {
  const [from, to] = [Date.parse(sheet.from), Date.parse(sheet.to)];
  const values = places.flatMap(({ course, storageMaxCelsius }) => [
    ...course.flatMap(({ min, max }) => [min, max]),
    ...(storageMaxCelsius === null ? [] : [storageMaxCelsius]),
  ]);
  const low = Math.floor(Math.min(...values)) - 1;
  // Room above for the words at the limit.
  const high = Math.ceil(Math.max(...values) + Math.max(1, (Math.max(...values) - low) * HEADROOM));
  const { width, names } = sizeOf();
  const [right, bottom] = [width - names, HEIGHT - FOOT];
  return {
    from,
    to,
    low,
    high,
    width,
    right,
    bottom,
    x: (at: number) => LEFT + ((at - from) / Math.max(1, to - from)) * (right - LEFT),
    y: (celsius: number) => bottom - ((celsius - low) / (high - low)) * (bottom - TOP),
  };
};

/** Names beside the ends of the lines, moved apart where they would touch. */
const namesOf = (places: readonly PlaceLine[], y: (celsius: number) => number) => {
  let free = TOP + 4;
  return [...places.entries()]
    .map(([index, { name, course }]) => ({ index, name, end: y(course.at(-1)?.mean ?? 0) }))
    .sort((one, other) => one.end - other.end)
    .map((one) => {
      const at = Math.max(free, one.end);
      free = at + 18;
      return { ...one, at };
    });
};

export const NightCourse = ({ sheet, zoned }: { readonly sheet: NightSheet; readonly zoned: Reader }) => {
  const places = sheet.places.filter(({ course }) => course.length > 0);
  if (places.length === 0) return null;
  const { from, to, low, high, width, right, bottom, x, y } = scaleOf(sheet, places);
  const limits = [
    ...new Set(
      places.flatMap(({ storageMaxCelsius }) => (storageMaxCelsius === null ? [] : [storageMaxCelsius])),
    ),
  ];
  return (
    <svg
      class="course"
      viewBox={`0 0 ${width} ${HEIGHT}`}
      role="img"
      aria-label={t('night.chart', { places: places.map(({ name }) => name).join(', ') })}
    >
      {degreeLines(low, high, zoned.unit).map((celsius) => (
        <g key={celsius}>
          <line class="course-rule" x1={LEFT} x2={right} y1={y(celsius)} y2={y(celsius)} />
          <text class="course-text" x={LEFT - 6} y={y(celsius) + 4} text-anchor="end">
            {Math.round(inUnit(celsius, zoned.unit))}
          </text>
        </g>
      ))}
      <text class="course-text" x="0" y={TOP}>
        {unitMark(zoned.unit)}
      </text>
      {axisTicks(from, to, zoned.timeZone).map((at) => (
        <g key={at}>
          <line class="course-rule" x1={x(at)} x2={x(at)} y1={TOP} y2={bottom} />
          <text class="course-text" x={x(at)} y={HEIGHT - 6} text-anchor="middle">
            {to - from > DAY_MILLIS ? tickText(at, zoned, formatTime(at, zoned)) : formatTime(at, zoned)}
          </text>
        </g>
      ))}
      {limits.map((limit) => (
        <g key={limit}>
          <line class="course-limit" x1={LEFT} x2={right} y1={y(limit)} y2={y(limit)} />
          <text class="course-text" x={LEFT + 6} y={y(limit) - 5}>
            {t('night.limit', { limit: `${formatLimit(limit, zoned)} ${unitMark(zoned.unit)}` })}
          </text>
        </g>
      ))}
      {places.map((place, index) => (
        <path
          key={place.station}
          class="course-line"
          data-style={index % STYLES}
          d={courseLine(place.course, place.courseSeconds, x, y)}
        >
          <title>
            {`${place.name}: ${formatTemperature(place.figures.minCelsius ?? 0, zoned)} – ${formatTemperature(place.figures.maxCelsius ?? 0, zoned)}`}
          </title>
        </path>
      ))}
      {namesOf(places, y).map(({ index, name, at }) => (
        <g key={name}>
          <line
            class="course-line"
            data-style={index % STYLES}
            x1={right + 8}
            x2={right + 34}
            y1={at}
            y2={at}
          />
          <text class="course-name" x={right + 40} y={at + 5}>
            {name}
          </text>
        </g>
      ))}
    </svg>
  );
};
