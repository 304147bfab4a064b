// One screen before Lighthouse, throttled as a mid-range phone on a slow mobile network (its own simulated throttling:
// 4 times slower processor, 1.6 Mbit/s, 150 ms round trip). Scores are 0 to 100.

import lighthouse, { type Result } from 'lighthouse';
import { pageFunctions } from 'lighthouse/core/lib/page-functions.js';

const CATEGORIES = ['performance', 'accessibility', 'best-practices'] as const;
type Category = (typeof CATEGORIES)[number];

export interface ScreenAudit {
  readonly scores: Readonly<Record<Category, number>>;
  /** What is below its best, by category: id, title and what was measured. */
  readonly below: Readonly<Record<Category, readonly string[]>>;
}

export interface ScreenAsked {
  /** That of a running Chromium. */
  readonly debugPort: number;
  /** Of whoever is signed in; empty: nobody is. */
  readonly cookie: string;
}

// Before each screen Lighthouse measures the machine for a second, for a warning that is not read here.
pageFunctions.computeBenchmarkIndex = () => 1000;

/** A trace sometimes fails on a busy machine, and Lighthouse must be run again. */
const MOST_RUNS = 4;

/** What is no matter of speed needs no slow phone. */
const AS_IT_COMES = {
  maxWaitForLoad: 1500,
  throttlingMethod: 'provided',
  disableFullPageScreenshot: true,
  // Its worker and its files would be installed anew for each screen.
  disableStorageReset: true,
} as const;

/** The live line never ends, so no quiet network is waited for long. */
const report = async (
  address: string,
  asked: ScreenAsked,
  only: readonly Category[],
  run = 1,
): Promise<Result> => {
  const result = await lighthouse(address, {
    port: asked.debugPort,
    output: 'json',
    logLevel: 'silent',
    onlyCategories: [...only],
    ...(asked.cookie !== '' && { extraHeaders: { Cookie: asked.cookie } }),
    ...(only.includes('performance') ? { maxWaitForLoad: 4000 } : AS_IT_COMES),
  });
  const failed = result === undefined ? 'no result' : result.lhr.runtimeError?.message;
  if (result !== undefined && failed === undefined) return result.lhr;
  if (run >= MOST_RUNS) throw new Error(`Lighthouse could not look at ${address}: ${failed}`);
  return report(address, asked, only, run + 1);
};

export const auditScreen = async (
  address: string,
  asked: ScreenAsked,
  only: readonly Category[] = CATEGORIES,
): Promise<ScreenAudit> => {
  const lhr = await report(address, asked, only);
  const of = <T>(look: (category: Category) => T) =>
    Object.fromEntries(CATEGORIES.map((category) => [category, look(category)])) as Record<Category, T>;
  return {
    scores: of((category) => Math.round(100 * (lhr.categories[category]?.score ?? 0))),
    below: of((category) =>
      (lhr.categories[category]?.auditRefs ?? []).flatMap(({ id, weight }) => {
        const audit = lhr.audits[id];
        return audit === undefined || weight === 0 || audit.score === null || audit.score >= 1
          ? []
          : [`${id}: ${audit.title} ${audit.displayValue ?? ''}`.trim()];
      }),
    ),
  };
};
