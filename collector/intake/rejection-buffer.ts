// Rejections on their way to the main thread: repeats are counted together and the number of rows is bounded, so
// that a gateway gone mad costs neither memory nor messages.

import type { Rejection } from '../decode/rejection.ts';

const ROWS = 500;
const FLUSH_MILLIS = 100;

export const rejectionBuffer = (deliver: (rejections: readonly Rejection[]) => void) => {
  const rows = new Map<string, Rejection>();
  let timer: NodeJS.Timeout | null = null;
  const flush = () => {
    if (timer !== null) clearTimeout(timer);
    timer = null;
    if (rows.size > 0) deliver([...rows.values()]);
    rows.clear();
  };
  return {
    add: (rejection: Rejection): void => {
      const key = `${rejection.code} ${rejection.topic}`;
      const times = (rows.get(key)?.times ?? 0) + (rejection.times ?? 1);
      rows.set(key, { ...rejection, times });
      if (rows.size >= ROWS) flush();
      else timer ??= setTimeout(flush, FLUSH_MILLIS);
    },
    flush,
  };
};
