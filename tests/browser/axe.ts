// axe-core in a page that was opened past its content policy, which rightly refuses the script.

import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const path = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

/** Each rule that the page breaks, with the first element that does. */
export const axeFaults = async (page: Page): Promise<readonly string[]> => {
  const isThere = await page.evaluate("typeof axe === 'object'");
  if (!isThere) await page.addScriptTag({ path });
  return (await page.evaluate(
    "axe.run({ resultTypes: ['violations'] }).then(({ violations }) => violations.map(({ id, nodes }) => id + ': ' + nodes[0].html))",
  )) as readonly string[];
};
