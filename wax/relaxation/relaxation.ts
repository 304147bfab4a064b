// The door to what a waiting pattern does: it ages in reduced time, releases frozen-in strain, changes its length with
// temperature, and meets its tolerance at some instant. Each part has a file of its own.

export {
  type ErrorBand,
  type FittedPattern,
  type HoldPeriod,
  permanentError,
  reversibleError,
} from './predicted-error.ts';
export {
  advanceTimeAbove,
  type CoursePoint,
  heatSince,
  reducedCourse,
  startTimeAbove,
  type TimeAbove,
} from './reduced-course.ts';
export { type RelaxationState, relaxationStart } from './reduced-time.ts';
export { type RelaxationParameters, isCalibrated, relaxationParameters } from './relaxation-parameters.ts';
export { dueInstants } from './tolerance-instant.ts';
