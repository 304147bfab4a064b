// Weather outside, invented: a season's mean, a daily wave that peaks in mid-afternoon, and slow swings of days.
// Pure functions of the instant, so that any stretch of time can be simulated from any start.

const HOUR = 3600_000;

export interface Climate {
  readonly meanCelsius: number;
  readonly dailyHalfRange: number;
  /** Of the swings of some days. */
  readonly slowKelvin: number;
  readonly sunrise: number;
  readonly sunset: number;
  /** 0 for a clear sky to 1 for a covered one. */
  readonly cloud: number;
}

/** A cool autumn, so that an open window at night is felt. */
export const COOL_AUTUMN: Climate = {
  meanCelsius: 7,
  dailyHalfRange: 3.5,
  slowKelvin: 1.6,
  sunrise: 7,
  sunset: 17.5,
  cloud: 0.5,
};
const WARMEST_HOUR = 15;

export const outdoorsCelsius = (
  at: number,
  localHour: number,
  seed: number,
  climate: Climate = COOL_AUTUMN,
): number => {
  const phase = (seed % 97) / 97;
  const days = at / (24 * HOUR);
  return (
    climate.meanCelsius +
    climate.dailyHalfRange * Math.cos(((localHour - WARMEST_HOUR) / 24) * 2 * Math.PI) +
    climate.slowKelvin * Math.sin((days / 3.1 + phase) * 2 * Math.PI) +
    climate.slowKelvin * 0.6875 * Math.sin((days / 7.3 + 2 * phase) * 2 * Math.PI)
  );
};

/** 0 to 1; clouds come and go over hours. */
export const sunShare = (
  at: number,
  localHour: number,
  seed: number,
  { sunrise, sunset, cloud }: Climate = COOL_AUTUMN,
): number => {
  if (localHour <= sunrise || localHour >= sunset) return 0;
  const height = Math.sin(((localHour - sunrise) / (sunset - sunrise)) * Math.PI);
  const hours = at / HOUR;
  const covered = cloud + 0.35 * Math.sin(hours / 1.7 + seed) + 0.15 * Math.sin(hours / 0.43 + 2 * seed);
  return height * Math.min(1, Math.max(0, 1 - covered));
};
