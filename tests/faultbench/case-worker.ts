// A thread that judges one case after the other as they are handed to it.

import { parentPort } from 'node:worker_threads';
import type { CaseSource } from './case-sources.ts';
import { judgeSource, type Wishes } from './judge-source.ts';

export interface CaseTask {
  readonly source: CaseSource;
  readonly wishes: Wishes;
}

parentPort?.on('message', async ({ source, wishes }: CaseTask) => {
  parentPort?.postMessage(await judgeSource(source, wishes));
});
