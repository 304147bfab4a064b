// How much garbage the process lets lie. At thousands of probes a commit leaves some megabytes behind it; by default the
// engine of the language lets the heap more than double before it collects them, which a small machine cannot spare.

import { setFlagsFromString } from 'node:v8';

/** Of what lives; less costs more processor time than it spares memory. */
const HEAP_GROWING_PERCENT = 40;

/** To be called before anything large is loaded; it counts for all threads. */
export const spareMemory = (): void => setFlagsFromString(`--heap-growing-percent=${HEAP_GROWING_PERCENT}`);
