// Paper is drawn in a thread of its own: it takes the processor for a second and more, and neither the wall nor an alarm
// nor the end of the process may wait for that. One document at a time.

import { Worker } from 'node:worker_threads';
import { ProblemError } from '../../../wax/problem-error.ts';
import type { MakePaper, PaperOrder } from '../night/paper-order.ts';

/** A minute's work; a request for more than that is refused for now. */
const MOST_WAITING = 20;

class PaperRefusal extends ProblemError<'sheets-waiting'> {}

/** From sources the thread needs the loader that strips types; what is built needs nothing. */
function startWorker(order: PaperOrder): Worker {
  const isSource = import.meta.url.endsWith('.ts');
  return new Worker(new URL(isSource ? './paper-worker.ts' : './paper-worker.js', import.meta.url), {
    name: 'paper',
    workerData: order,
    execArgv: isSource
      ? ['--import', new URL('../../../scripts/typescript-hooks.mjs', import.meta.url).href]
      : [],
  });
}

const draw: MakePaper = (order, signal) =>
  new Promise((resolve, reject) => {
    signal.throwIfAborted();
    const worker = startWorker(order);
    const stop = (): void => void worker.terminate();
    signal.addEventListener('abort', stop, { once: true });
    worker.once('message', (pdf: Uint8Array) => resolve(Buffer.from(pdf)));
    worker.once('error', reject);
    worker.once('exit', () => {
      signal.removeEventListener('abort', stop);
      reject(signal.aborted ? signal.reason : new Error('the paper was not finished'));
    });
  });

/** What is requested meanwhile waits for its turn. */
export const paperThread = (): MakePaper => {
  let waiting = 0;
  let drawing: Promise<unknown> = Promise.resolve();
  return async (order, signal) => {
    if (waiting >= MOST_WAITING) throw new PaperRefusal('sheets-waiting', { most: MOST_WAITING });
    waiting += 1;
    const drawn = drawing.then(() => draw(order, signal));
    drawing = drawn.catch(() => {});
    try {
      return await drawn;
    } finally {
      waiting -= 1;
    }
  };
};
