// How much garbage the process of a large lab lets lie. At thousands of probes a commit leaves some megabytes behind
// it; by default the engine of the language lets the heap more than double before it collects them, which a small
// machine cannot spare. In a small lab little lies about, and to collect it more often costs a quarter more processor
// time a message.

import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

const MANY_PROBES = 1000;
/** Of the live heap; a smaller share costs more processor time than the memory is worth. */
const HEAP_GROWING_PERCENT = 40;

/** Holds for all threads from then on. */
export const spareMemory = (probes: number): void => {
  if (probes < MANY_PROBES) return;
  setFlagsFromString(`--heap-growing-percent=${HEAP_GROWING_PERCENT}`);
  // The engine works out anew how far the heap may grow when it has collected, and a start leaves more garbage than a
  // minute.
  setFlagsFromString('--expose-gc');
  runInNewContext('gc')();
};
