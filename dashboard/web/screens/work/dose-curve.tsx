// The heat dose of a charge since it was filled, against its allowance. The figures stand beside it in words.

import type { ChargeCourseView } from '../../../api/patterns.ts';
import { t } from '../../base/messages.ts';

const WIDTH = 300;
const HEIGHT = 100;

export const DoseCurve = (props: { readonly course: ChargeCourseView; readonly name: string }) => {
  const { curve, allowanceEquivalentHours: allowance } = props.course;
  const [first] = curve;
  const last = curve.at(-1);
  if (first === undefined || last === undefined || first === last) return null;
  const from = Date.parse(first.at);
  const span = Date.parse(last.at) - from;
  const most = Math.max(allowance, ...curve.map(({ hours }) => hours)) * 1.1;
  const y = (hours: number): number => HEIGHT - (HEIGHT * hours) / most;
  const points = curve
    .map(({ at, hours }) => `${((WIDTH * (Date.parse(at) - from)) / span).toFixed(1)},${y(hours).toFixed(1)}`)
    .join(' ');
  return (
    <svg
      class="dose-curve"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      preserveAspectRatio="none"
      role="img"
      aria-label={t('work.dose-chart', { charge: props.name })}
    >
      <line x1="0" x2={WIDTH} y1={y(allowance)} y2={y(allowance)} />
      <polyline points={points} />
    </svg>
  );
};
