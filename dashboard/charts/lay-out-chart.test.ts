import { describe, expect, it } from 'vitest';
import type { Chart, ChartSeries } from './chart.ts';
import { type ChartFrame, layOutChart, leastHeight, linePath } from './lay-out-chart.ts';

const FRAME: ChartFrame = {
  width: 200,
  height: 100,
  left: 20,
  top: 10,
  foot: 10,
  names: 60,
  tickSize: 6,
  nameSize: 8,
};
const ticks = (values: readonly number[]) => values.map((value) => ({ value, text: `${value}:00` }));
const axis = (low: number, high: number, title: string) => ({ low, high, title, textOf: String });
const series = (name: string, end: number): ChartSeries => ({
  name,
  band: [],
  dots: [],
  style: 0,
  points: [
    { x: 0, y: 20 },
    { x: 10, y: end },
  ],
});
const chart = (lines: readonly ChartSeries[], more: Partial<Chart> = {}): Chart => ({
  label: '',
  window: null,
  limits: [],
  ranges: [],
  events: [],
  series: lines,
  x: { ...axis(0, 10, ''), ticks: ticks([0, 5, 10]) },
  y: { ...axis(15, 25, '°C'), ticks: ticks([15, 20, 25]) },
  ...more,
});
const texts = (of: Chart, role: 'tick' | 'name') =>
  layOutChart(of, FRAME).flatMap((shape) => (shape.kind === 'text' && shape.role === role ? [shape] : []));

describe('the line of a chart', () => {
  const scales = { x: (value: number) => value, y: (value: number) => value };
  const at = (x: number, y: number | null) => ({ x, y });

  it('is lifted at a gap and goes on after it', () => {
    expect(linePath([at(0, 1), at(1, 2), at(2, null), at(3, 4), at(4, 5)], scales)).toBe(
      'M0.0 1.0L1.0 2.0M3.0 4.0L4.0 5.0',
    );
  });

  it('has a mark for a single reading between two gaps', () => {
    expect(linePath([at(0, 1), at(1, null)], scales)).toBe('M0.0 1.0L0.0 1.0');
  });
});

describe('the bar of a night', () => {
  const signsOf = (tone: 'plain' | 'medium' | 'high') =>
    layOutChart(chart([], { ranges: [{ x: 5, low: 18, high: 20, mark: 19, tone }] }), FRAME).flatMap(
      (shape) => (shape.kind === 'path' && shape.role === 'sign' ? [shape] : []),
    );

  it('has the sign of its verdict above it, another for each, and none where all is well', () => {
    const [[check], [remake]] = [signsOf('medium'), signsOf('high')];
    expect(signsOf('plain')).toEqual([]);
    expect([check?.tone, remake?.tone]).toEqual(['medium', 'high']);
    expect(check?.d).not.toBe(remake?.d);
    const heights = [...`${check?.d}`.matchAll(/ (-?[\d.]+)/g)].map(([, y]) => Number(y));
    // The scale of 15 to 25 °C is 80 high below a title of 10.
    expect(Math.max(...heights)).toBeLessThan(50);
  });
});

describe('the layout of a chart', () => {
  it('writes the unit of the axis above its numbers', () => {
    expect(texts(chart([series('drawer', 20)]), 'tick').map(({ text }) => text)).toContain('°C');
  });

  it('moves the names of lines that end at the same height apart', () => {
    const heights = texts(chart([series('a', 22), series('b', 22), series('c', 22)]), 'name').map(
      ({ y }) => y,
    );
    for (const [index, y] of heights.entries())
      expect(y - (heights[index - 1] ?? 0)).toBeGreaterThanOrEqual(FRAME.nameSize);
  });

  it('keeps all names within the frame when every line ends at its foot', () => {
    const lines = ['a', 'b', 'c', 'd'].map((name) => series(name, 15));
    for (const { y } of texts(chart(lines), 'name')) expect(y).toBeLessThanOrEqual(FRAME.height);
  });

  it('takes more height when there are more names than have room', () => {
    const lines = Array.from({ length: 40 }, (_, index) => series(`place ${index}`, 20));
    expect(leastHeight(chart(lines), FRAME)).toBeGreaterThanOrEqual(40 * FRAME.nameSize);
    expect(leastHeight(chart([series('a', 20)]), FRAME)).toBe(FRAME.height);
  });

  it('leaves out ticks whose words would touch, and keeps their lines', () => {
    const crowded = chart([], {
      x: { ...axis(0, 10, ''), ticks: ticks([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10]) },
      y: { ...axis(15, 25, '°C'), ticks: [] },
    });
    const grid = layOutChart(crowded, FRAME).filter(
      (shape) => shape.kind === 'path' && shape.role === 'grid',
    );
    expect(grid.length).toBe(11);
    expect(texts(crowded, 'tick').length).toBeLessThan(9);
  });

  it('shades a working window without a lower end down to the foot', () => {
    const [shape] = layOutChart(chart([], { window: { low: null, high: 20 } }), FRAME);
    expect(shape).toEqual({ kind: 'path', role: 'window', d: 'M20.0 50.0H140.0V90.0H20.0Z' });
  });
});
