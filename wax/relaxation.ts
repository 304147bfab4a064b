// The door to what a stored pattern does: it ages in reduced time, releases frozen-in strain, and meets its
// tolerance at some instant. Each part has a file of its own.

export { type PatternFacts, predictedError } from './predicted-error.ts';
export { type RelaxationState, relaxationStart, relaxationStep } from './reduced-time.ts';
export { dueInstants } from './due-instants.ts';
export { type RelaxationParameters, relaxationParameters } from './relaxation-parameters.ts';
