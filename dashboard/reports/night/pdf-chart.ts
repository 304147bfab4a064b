// The courses of the storage places drawn into the paper: true scales, limits, gaps left open. Lines are told apart
// by their dashes and their names at the end, so that a print without colour says the same.

import type { PlaceLine } from '../../api/night.ts';
import { clockTicks } from './clock-ticks.ts';
import { DIM, type Paper, RULE } from './pdf-paper.ts';
import type { Speaker } from '../words/night-words.ts';

const FULL_HEIGHT = 112;
const AXIS_LEFT = 26;
const NAMES = 104;
const FOOT = 13;
const HEADROOM = 0.12;
const STYLES = [
  { colour: '#1b1c1e', dash: null },
  { colour: '#0d5490', dash: [5, 2] },
  { colour: '#7d4400', dash: [1.5, 1.5] },
  { colour: '#a82408', dash: [7, 2, 1.5, 2] },
  { colour: '#5f5000', dash: [3, 3] },
] as const;
const LIMIT_DASH: [number, number] = [2, 3];

/** Whole steps that give about five lines. */
const degreeSteps = (low: number, high: number): readonly number[] => {
  const step = [0.5, 1, 2, 5, 10, 20, 50].find((one) => (high - low) / one <= 6) ?? 100;
  const first = Math.ceil(low / step);
  return Array.from({ length: Math.floor(high / step) - first + 1 }, (_, index) => (first + index) * step);
};

export const nightChart = (
  { doc, left, width, room, type, density }: Paper,
  places: readonly PlaceLine[],
  span: { readonly from: number; readonly to: number },
  speaks: Speaker,
): void => {
  const drawn = places.filter(({ course }) => course.length > 0);
  if (drawn.length === 0) return;
  const height = FULL_HEIGHT * density ** 2;
  room(height + FOOT + 14);
  const top = doc.y + 9;
  const [x0, x1] = [left + AXIS_LEFT, left + width - NAMES];
  const unit = (value: number) => (speaks.unit === 'celsius' ? value : value * 1.8 + 32);
  const values = drawn.flatMap(({ course, storageMaxCelsius }) => [
    ...course.flatMap(({ min, max }) => [unit(min), unit(max)]),
    ...(storageMaxCelsius === null ? [] : [unit(storageMaxCelsius)]),
  ]);
  const low = Math.floor(Math.min(...values)) - 1;
  // Room above for the words at the limit.
  const high = Math.ceil(Math.max(...values) + Math.max(1, (Math.max(...values) - low) * HEADROOM));
  const x = (at: number) => x0 + ((at - span.from) / Math.max(1, span.to - span.from)) * (x1 - x0);
  const y = (value: number) => top + height - ((value - low) / (high - low)) * height;
  const stroke = (colour: string, thick: number, dash: readonly number[] | null): void => {
    doc.lineWidth(thick).strokeColor(colour);
    if (dash === null) doc.undash();
    else doc.dash(dash[0] ?? 1, { space: dash[1] ?? 1 });
    doc.stroke().undash();
  };
  for (const value of degreeSteps(low, high)) {
    doc.moveTo(x0, y(value)).lineTo(x1, y(value));
    stroke(RULE, 0.3, null);
    type(6, false, DIM).text(speaks.number(value, Number.isInteger(value) ? 0 : 1), left, y(value) - 3.5, {
      width: AXIS_LEFT - 4,
      align: 'right',
      lineBreak: false,
    });
  }
  type(6, false, DIM).text(speaks.unit === 'celsius' ? '°C' : '°F', left, top - 9, { lineBreak: false });
  const ticks = clockTicks(span.from, span.to, speaks.timeZone);
  const long = span.to - span.from > 26 * 3_600_000;
  for (const [index, at] of ticks.entries()) {
    doc.moveTo(x(at), top).lineTo(x(at), top + height);
    stroke(RULE, 0.3, null);
    const before = ticks[index - 1];
    const newDay = long && before !== undefined && speaks.day(before) !== speaks.day(at);
    type(6, false, DIM).text(newDay ? speaks.weekday(at) : speaks.clock(at), x(at) - 35, top + height + 3, {
      width: 70,
      align: 'center',
      lineBreak: false,
    });
  }
  const limits = new Map(
    drawn.flatMap(({ storageMaxCelsius }) => (storageMaxCelsius === null ? [] : [[storageMaxCelsius, true]])),
  );
  for (const limit of limits.keys()) {
    doc.moveTo(x0, y(unit(limit))).lineTo(x1, y(unit(limit)));
    stroke(DIM, 0.9, LIMIT_DASH);
    type(6, false, DIM).text(`${speaks.text('limit')} ${speaks.celsius(limit)}`, x0 + 3, y(unit(limit)) - 8, {
      lineBreak: false,
    });
  }
  let nameY = Number.NEGATIVE_INFINITY;
  const byEnd = [...drawn.entries()].sort(
    ([, one], [, other]) => (other.course.at(-1)?.mean ?? 0) - (one.course.at(-1)?.mean ?? 0),
  );
  for (const [index, place] of byEnd) {
    const { colour, dash } = STYLES[index % STYLES.length] ?? STYLES[0];
    let before: number | null = null;
    for (const point of place.course) {
      const at = Date.parse(point.at);
      // Two buckets apart is a gap, and a gap stays open.
      if (before === null || at - before > 2 * place.courseSeconds * 1000 + 900_000)
        doc.moveTo(x(at), y(unit(point.mean)));
      else doc.lineTo(x(at), y(unit(point.mean)));
      before = at;
    }
    stroke(colour, 1, dash);
    const end = y(unit(place.course.at(-1)?.mean ?? 0)) - 4;
    nameY = Math.max(nameY + 9, Math.min(end, top + height - 8));
    doc.moveTo(x1 + 6, nameY + 4).lineTo(x1 + 22, nameY + 4);
    stroke(colour, 1, dash);
    type(6.5).text(place.name, x1 + 26, nameY, { width: NAMES - 26, lineBreak: false, ellipsis: true });
  }
  doc.rect(x0, top, x1 - x0, height);
  stroke(DIM, 0.5, null);
  doc.x = left;
  doc.y = top + height + FOOT;
};
