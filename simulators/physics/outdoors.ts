// Weather outside, invented: a season's mean, a daily wave that peaks in mid-afternoon, and slow swings of days.
// Pure functions of the instant, so that any stretch of time can be simulated from any start.

const HOUR = 3600_000;

/** A cool autumn, so that an open window at night is felt. */
const MEAN_CELSIUS = 7;
const DAILY_HALF_RANGE = 3.5;
const WARMEST_HOUR = 15;

export const outdoorsCelsius = (at: number, localHour: number, seed: number): number => {
  const phase = (seed % 97) / 97;
  const days = at / (24 * HOUR);
  return (
    MEAN_CELSIUS +
    DAILY_HALF_RANGE * Math.cos(((localHour - WARMEST_HOUR) / 24) * 2 * Math.PI) +
    1.6 * Math.sin((days / 3.1 + phase) * 2 * Math.PI) +
    1.1 * Math.sin((days / 7.3 + 2 * phase) * 2 * Math.PI)
  );
};

const SUNRISE = 7;
const SUNSET = 17.5;

/** 0 to 1; clouds come and go over hours. */
export const sunShare = (at: number, localHour: number, seed: number): number => {
  if (localHour <= SUNRISE || localHour >= SUNSET) return 0;
  const height = Math.sin(((localHour - SUNRISE) / (SUNSET - SUNRISE)) * Math.PI);
  const hours = at / HOUR;
  const cloud = 0.5 + 0.35 * Math.sin(hours / 1.7 + seed) + 0.15 * Math.sin(hours / 0.43 + 2 * seed);
  return height * Math.min(1, Math.max(0, 1 - cloud));
};
