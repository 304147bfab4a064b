// Probes as labs have them: digital ones in steps of a sixteenth of a degree, converters in tenths, old ones in halves;
// some answer each second, some each minute.

import type { Draw } from '../draw/draw.ts';
import type { WorldProbe } from '../world/plan.ts';

type Choice = readonly [number, ...number[]];

export interface ProbeWishes {
  readonly id: string;
  readonly where: string;
  readonly spot: string;
  readonly gateway: string;
  readonly medium: Medium;
  /** How long the case is: probes that answer each second are for short ones. */
  readonly days: number;
  readonly isFine?: boolean;
}

type Medium = 'wax' | 'water' | 'air';
const LAGS: Readonly<Record<Medium, readonly [number, number]>> = {
  wax: [2, 25],
  water: [2, 15],
  air: [15, 120],
};

export const drawProbe = (draw: Draw, wishes: ProbeWishes): WorldProbe => {
  const { medium, days } = wishes;
  const heaterSeconds: Choice = days <= 3 ? [1, 2, 5, 5, 10, 30] : [2, 5, 5, 10, 10, 15, 20, 30, 60];
  const storageSeconds: Choice = [30, 60, 60, 60];
  const fine: Choice = [0.0625, 0.1, 0.01];
  const usual: Choice = [0.0625, 0.0625, 0.0625, 0.1, 0.1, 0.1, 0.01, 0.5];
  const secondsOf = medium === 'air' && wishes.spot.startsWith('air') ? storageSeconds : heaterSeconds;
  const seconds = draw.pick(secondsOf);
  return {
    id: wishes.id,
    where: wishes.where,
    spot: wishes.spot,
    gateway: wishes.gateway,
    seconds: wishes.isFine ? Math.min(seconds, 10) : seconds,
    resolutionKelvin: draw.pick(wishes.isFine ? fine : usual),
    noiseKelvin: draw.logUniform(0.01, 0.12),
    lagSeconds: draw.logUniform(...LAGS[medium]),
    offsetKelvin: Math.max(-0.5, Math.min(0.5, draw.normal() * 0.2)),
    lostShare: draw.chance(0.3) ? draw.uniform(0, 0.01) : 0,
    troubles: [],
  };
};
