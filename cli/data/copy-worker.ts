// A copy of the data folder in a thread of its own: reading years of it would hold up the program.

import { parentPort, workerData } from 'node:worker_threads';
import { reasonOf } from '../../wax/problem-error.ts';
import { copyData } from './data-copy.ts';

export interface CopyOrder {
  readonly folder: string;
  readonly target: string;
}

const { folder, target }: CopyOrder = workerData;
try {
  copyData(folder, target);
  parentPort?.postMessage(null);
} catch (error) {
  parentPort?.postMessage(reasonOf(error));
}
