// Many cases, on as many threads as were asked for; the answers are in the order of the sources, whoever was first.

import { once } from 'node:events';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import type { CaseSource } from './case-sources.ts';
import type { CaseTask } from './case-worker.ts';
import { type Judged, judgeSource, type Wishes } from './judge-source.ts';

const HOOKS = join(import.meta.dirname, '../../scripts/typescript-hooks.mjs');

export async function judgeAll(
  sources: readonly CaseSource[],
  wishes: Wishes,
  jobs: number,
): Promise<readonly Judged[]> {
  const answers: Judged[] = [];
  let next = 0;
  const take = async (judge: (source: CaseSource) => Promise<Judged>): Promise<void> => {
    for (let index = next++; index < sources.length; index = next++) {
      const source = sources[index];
      if (source !== undefined) answers[index] = await judge(source);
    }
  };
  if (jobs <= 1) await take((source) => judgeSource(source, wishes));
  else
    await Promise.all(
      Array.from({ length: Math.min(jobs, sources.length) }, async () => {
        const worker = new Worker(new URL('./case-worker.ts', import.meta.url), {
          execArgv: ['--import', HOOKS],
        });
        try {
          await take(async (source) => {
            const task: CaseTask = { source, wishes };
            worker.postMessage(task);
            const [answer] = await once(worker, 'message');
            return answer;
          });
        } finally {
          await worker.terminate();
        }
      }),
    );
  return answers;
}
