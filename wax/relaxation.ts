// The door to what a stored pattern does: it ages in reduced time, releases frozen-in strain, and meets its
// tolerance at some instant. Each part has a file of its own.

export { type PatternFacts, type PredictedError, predictedError } from './predicted-error.ts';
export {
  type RelaxationState,
  relaxationAdvance,
  relaxationStart,
  relaxationStep,
  runningRelaxation,
} from './reduced-time.ts';
export { type DueInstants, dueInstants } from './due-instants.ts';
export { isCalibrated, type RelaxationParameters, relaxationParameters } from './relaxation-parameters.ts';
export { instantOfTolerance, type ToleranceBand, toleranceBand } from './tolerance-instant.ts';
