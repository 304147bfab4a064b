// Ten million made-up messages over all formats through the decoder of intake: what became of them, and whether the memory
// stays flat. Prints after each million, so that a run that is broken off has printed something. WAXWARDEN_MALFORMED sets
// how many.

import { sendMalformed } from '../malformed-messages.ts';

const ROUND = 1_000_000;
const FIRST_SEED = 0.7;
const SEED_STEP = 0.0137;

const heapMegabytes = (): number => {
  globalThis.gc?.();
  return process.memoryUsage().heapUsed / 1024 / 1024;
};

export const run = async (): Promise<void> => {
  const wanted = Number(process.env.WAXWARDEN_MALFORMED ?? 10 * ROUND);
  // What a first round leaves behind is compiled code and caches of the library.
  sendMalformed(ROUND / 20, FIRST_SEED);
  const before = heapMegabytes();
  for (let done = 0; done < wanted; done += ROUND) {
    const count = Math.min(ROUND, wanted - done);
    const seed = Number((FIRST_SEED + (done / ROUND) * SEED_STEP).toFixed(4));
    const started = performance.now();
    const counts = sendMalformed(count, seed);
    const seconds = (performance.now() - started) / 1000;
    const { received, acknowledged, accepted, quarantined, sparkplugWithout, clearing, lost } = counts;
    const note = `seed ${seed}; accepted ${accepted}, quarantined ${quarantined}, Sparkplug that waits or says nothing ${sparkplugWithout}, empty retained ${clearing}`;
    const print = (name: string, value: number, unit: string): void =>
      console.log(JSON.stringify({ name, value, unit, n: received, note }));
    print('malformed-unaccounted', lost.length + received - acknowledged, 'messages');
    print('malformed-heap-growth', Math.round((heapMegabytes() - before) * 10) / 10, 'MB');
    print('malformed-rate', Math.round(received / seconds), 'messages/s');
  }
};
