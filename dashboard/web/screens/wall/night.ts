// When the wall dims, and how its picture wanders so that no screen keeps a ghost of it. Pure.

/** Minutes since midnight of `HH:MM`; null when it is no such text. */
export const minutesOf = (clock: string): number | null => {
  const match = /^(\d{1,2}):(\d{2})$/.exec(clock);
  if (!match) return null;
  const [hours, minutes] = [Number(match[1]), Number(match[2])];
  return hours < 24 && minutes < 60 ? hours * 60 + minutes : null;
};

/** The span may cross midnight; from equal to to is no night at all. */
export const isNight = (clock: string, from: string, to: string): boolean => {
  const [at, start, end] = [minutesOf(clock), minutesOf(from), minutesOf(to)];
  if (at === null || start === null || end === null || start === end) return false;
  return start < end ? at >= start && at < end : at >= start || at < end;
};

const STEP_MILLIS = 120_000;
const WALK: readonly (readonly [x: number, y: number])[] = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
  [-1, 1],
  [-1, 0],
  [-1, -1],
  [0, -1],
  [1, -1],
];
const SHIFT_PIXELS = 3;

/** A step every two minutes round a small square: too slow to be seen, enough to spare the screen. */
export const wander = (now: number): readonly [x: number, y: number] => {
  const [x, y] = WALK[Math.floor(now / STEP_MILLIS) % WALK.length] ?? [0, 0];
  return [x * SHIFT_PIXELS, y * SHIFT_PIXELS];
};
