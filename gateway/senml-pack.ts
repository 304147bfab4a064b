// Sweeps as a SenML pack (RFC 8428): one record a value with its instant, and beside them the number of each sweep, the
// buffer that counts them, and whether the clock was set.

import type { Waiting } from './buffer.ts';

/** Names of records about the gateway itself. */
const SEQUENCE = 'gateway/sequence';
const BUFFER = 'gateway/buffer';
const CLOCK = 'gateway/clock';

/**
 * @example senmlPack('5f0c', [{ sequence: 7, isClockSet: true, samples: [{ probe: 'pot-1', unit: 'Cel', value: 61.5, at: 1780300800000 }] }])
 * // [{"n":"pot-1","u":"Cel","v":61.5,"t":1780300800},{"n":"gateway/sequence","u":"count","v":7},{"n":"gateway/buffer","vs":"5f0c"}]
 */
export function senmlPack(buffer: string, sweeps: readonly Waiting[]): string {
  const numbers = sweeps.flatMap(({ sequence }) => (sequence === null ? [] : [sequence]));
  return JSON.stringify([
    ...sweeps.flatMap(({ samples }) =>
      samples.map(({ probe, unit, value, at }) => ({ n: probe, u: unit, v: value, t: at / 1000 })),
    ),
    ...numbers.map((sequence) => ({ n: SEQUENCE, u: 'count', v: sequence })),
    ...(numbers.length > 0 ? [{ n: BUFFER, vs: buffer }] : []),
    ...(sweeps.some(({ isClockSet }) => !isClockSet) ? [{ n: CLOCK, vb: false }] : []),
  ]);
}
