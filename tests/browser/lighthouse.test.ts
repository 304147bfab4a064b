// Every screen before Lighthouse: accessibility and best practices at their full hundred. How fast they are is a
// matter of the bench, where a busy machine fails nobody.

import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { auditScreen } from './audit-screen.ts';
import { startBrowser } from './browser.ts';
import { type BuiltScreens, fillLab, openScreens, removeBuild } from './built-screens.ts';
import { freePort } from './free-port.ts';
import { PLACES } from './places.ts';

describe('Lighthouse', () => {
  let port: number;
  let browser: Browser;
  let screens: BuiltScreens;
  beforeAll(async () => {
    port = await freePort();
    browser = await startBrowser([`--remote-debugging-port=${port}`]);
    screens = await openScreens();
    await fillLab(screens, 8);
    screens.lab.raise('over-ceiling', 'pot-1');
  });
  afterAll(async () => {
    await browser?.close();
    await screens?.close();
    await removeBuild();
  });

  it.each(PLACES)('finds nothing to mend on %s', async (path) => {
    const { scores, below } = await auditScreen(screens.address + path, port, [
      'accessibility',
      'best-practices',
    ]);
    expect(scores).toMatchObject({ accessibility: 100, 'best-practices': 100 });
    expect(below).toEqual({ performance: [], accessibility: [], 'best-practices': [] });
  });
});
