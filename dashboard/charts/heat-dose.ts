// The heat dose of a charge since it was filled, against its allowance. Pure.

import type { DoseCurveView } from '../api/charges.ts';
import type { Chart, ChartFormats } from './chart.ts';
import { timeAxis } from './time-axis.ts';
import { valueAxis } from './value-axis.ts';

/** Room above the higher of dose and allowance. */
const HEADROOM = 1.2;

interface DoseWords {
  readonly label: string;
  readonly axis: string;
  readonly allowance: string;
}

/** Null until there are two instants to draw a line between. */
export const heatDoseChart = (
  { curve, allowanceEquivalentHours }: Pick<DoseCurveView, 'curve' | 'allowanceEquivalentHours'>,
  formats: ChartFormats,
  words: DoseWords,
): Chart | null => {
  const [first] = curve;
  const last = curve.at(-1);
  if (first === undefined || last === undefined || first.at === last.at) return null;
  const highest = curve.reduce((most, { hours }) => Math.max(most, hours), allowanceEquivalentHours);
  return {
    label: words.label,
    x: timeAxis(Date.parse(first.at), Date.parse(last.at), formats),
    y: valueAxis(0, highest * HEADROOM, { title: words.axis, unit: 'h', digits: 1 }, formats),
    window: null,
    limits: [{ y: allowanceEquivalentHours, text: words.allowance }],
    series: [
      {
        name: '',
        points: curve.map(({ at, hours }) => ({ x: Date.parse(at), y: hours })),
        band: [],
        dots: [],
        style: 0,
      },
    ],
    ranges: [],
    events: [],
  };
};
