// A million made-up messages over all formats through the decoder of intake: what became of them, and whether the memory
// stays flat. WAXWARDEN_MALFORMED sets how many.

import { sendMalformed } from '../malformed-messages.ts';

const SEED = 0.7;
const WARM_SHARE = 0.1;

const heapMegabytes = (): number => {
  globalThis.gc?.();
  return process.memoryUsage().heapUsed / 1024 / 1024;
};

export const run = async (): Promise<void> => {
  const count = Number(process.env.WAXWARDEN_MALFORMED ?? 1_000_000);
  const warm = Math.floor(count * WARM_SHARE);
  let before = 0;
  const started = performance.now();
  const counts = sendMalformed(count, SEED, (sent) => {
    if (sent === warm) before = heapMegabytes();
  });
  const seconds = (performance.now() - started) / 1000;
  const { received, acknowledged, accepted, quarantined, sparkplugWithout, clearing, lost } = counts;
  const note = `seed ${SEED}; accepted ${accepted}, quarantined ${quarantined}, Sparkplug that waits or says nothing ${sparkplugWithout}, empty retained ${clearing}`;
  const print = (name: string, value: number, unit: string): void =>
    console.log(JSON.stringify({ name, value, unit, n: received, note }));
  print('malformed-unaccounted', lost.length + received - acknowledged, 'messages');
  print('malformed-heap-growth', Math.round((heapMegabytes() - before) * 10) / 10, 'MB');
  print('malformed-rate', Math.round(received / seconds), 'messages/s');
};
