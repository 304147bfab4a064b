// Opening over hours: what was read as points, the fitted curve of each stick with its 95 % band. The library draws.

import { useSignalEffect } from '@preact/signals';
import {
  Chart,
  type ChartDataset,
  type ChartOptions,
  Filler,
  LinearScale,
  LineController,
  LineElement,
  PointElement,
} from 'chart.js';
import { useEffect, useRef } from 'preact/hooks';
import type { BentStickView } from '../../../../api/bent-stick.ts';
import { formatNumber, formatTemperature } from '../../../base/format.ts';
import { t } from '../../../base/messages.ts';
import { theme } from '../../../base/settings.ts';
import { reader } from '../../../live/lab-state.ts';

Chart.register(LineController, LineElement, PointElement, LinearScale, Filler);

const token = (name: string): string =>
  getComputedStyle(document.documentElement).getPropertyValue(`--${name}`).trim();
const typeSize = (rems: number): number =>
  rems * Number.parseFloat(getComputedStyle(document.documentElement).fontSize);

/** Sticks are told apart by dash and point, never by colour alone. */
const DASHES = [[], [8, 4], [2, 3], [12, 3, 2, 3]] as const;
const POINTS = ['circle', 'rect', 'triangle', 'rectRot'] as const;

type Line = ChartDataset<'line', { x: number; y: number }[]>;

const lines = ({ curves, residuals }: BentStickView): Line[] =>
  curves.flatMap(({ stick, points }): Line[] => {
    const edge = { borderWidth: 0, pointRadius: 0 };
    const mark = (stick - 1) % POINTS.length;
    return [
      { ...edge, data: points.map(({ hours, low }) => ({ x: hours, y: low })) },
      {
        ...edge,
        data: points.map(({ hours, high }) => ({ x: hours, y: high })),
        fill: '-1',
        backgroundColor: `${token('edge')}44`,
      },
      {
        data: points.map(({ hours, millimetres }) => ({ x: hours, y: millimetres })),
        borderColor: token('ink'),
        borderWidth: 2,
        borderDash: [...(DASHES[mark] ?? [])],
        pointRadius: 0,
      },
      {
        data: residuals
          .filter((one) => one.stick === stick)
          .map(({ hours, measured }) => ({ x: hours, y: measured })),
        showLine: false,
        pointStyle: POINTS[mark] ?? 'circle',
        pointRadius: 5,
        borderColor: token('ink'),
        backgroundColor: token('plate'),
      },
    ];
  });

const options = ({ residuals, curves }: BentStickView): ChartOptions<'line'> => {
  const font = { family: token('type'), size: typeSize(0.875) };
  const axis = (title: string, digits: number) => ({
    type: 'linear' as const,
    min: 0,
    grid: { color: token('lane') },
    ticks: {
      color: token('dim'),
      font,
      callback: (value: number | string) => formatNumber(Number(value), digits, reader.peek()),
    },
    title: { display: true, text: title, color: token('dim'), font },
  });
  const highest = Math.max(
    ...residuals.map(({ measured }) => measured),
    ...curves.map(({ points }) => points.at(-1)?.millimetres ?? 0),
  );
  return {
    animation: false,
    responsive: true,
    maintainAspectRatio: false,
    parsing: false,
    locale: reader.peek().language,
    scales: {
      x: axis(t('bent-stick.hours'), 0),
      // A band that is wide beyond measure must not flatten the readings.
      y: { ...axis(t('bent-stick.millimetres'), 1), max: highest * 1.3 },
    },
    plugins: { legend: { display: false } },
  };
};

export const OpeningChart = ({ fit }: { readonly fit: BentStickView }) => {
  const canvas = useRef<HTMLCanvasElement>(null);
  const chart = useRef<Chart<'line', { x: number; y: number }[]> | null>(null);
  const draw = (): void => {
    if (!canvas.current) return;
    chart.current?.destroy();
    chart.current = new Chart(canvas.current, {
      type: 'line',
      data: { datasets: lines(fit) },
      options: options(fit),
    });
  };
  useEffect(draw, [fit]);
  // The tokens change with the theme only after this frame.
  useSignalEffect(() => {
    theme.value;
    requestAnimationFrame(draw);
  });
  useEffect(() => () => chart.current?.destroy(), []);
  return (
    <figure class="opening-chart">
      <div class="chart">
        <canvas ref={canvas} role="img" aria-label={t('bent-stick.chart')} />
      </div>
      <figcaption>
        {fit.curves.map(({ stick, celsius }) => (
          <span key={stick} class="stick-key" data-line={(stick - 1) % POINTS.length}>
            {t('bent-stick.line', { number: stick, temperature: formatTemperature(celsius, reader.value) })}
          </span>
        ))}
        <span>{t('bent-stick.band')}</span>
      </figcaption>
    </figure>
  );
};
