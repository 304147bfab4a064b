// Screens before Lighthouse: accessibility and best practices at their full hundred. Those that people look at most, and
// one of each build: who is not signed in, a form, a record; axe and the console are checked on every screen by other files.
// How fast they are is a matter of the bench, where a busy machine fails nobody.

import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { freePort } from '../free-port.ts';
import { auditScreen } from './audit-screen.ts';
import { startBrowser } from './browser.ts';
import { type BuiltScreens, fillLab, fillRecords, openScreens } from './built-screens.ts';
import { isForManager, PLACES } from './places.ts';

const AUDITED = PLACES.filter(
  (path) =>
    ['/', '/wall', '/s/pot-1', '/night', '/sign-in', '/set-up/stations'].includes(path) ||
    path.startsWith('/evidence?'),
);

describe('Lighthouse', () => {
  let debugPort: number;
  let cookie: string;
  let browser: Browser;
  let screens: BuiltScreens;
  beforeAll(async () => {
    debugPort = await freePort();
    browser = await startBrowser({ args: [`--remote-debugging-port=${debugPort}`] });
    screens = await openScreens();
    await fillLab(screens, 8);
    await fillRecords(screens);
    cookie = (await screens.manager()).cookie;
    screens.lab.raise('over-ceiling', 'pot-1');
  });
  afterAll(async () => {
    await browser?.close();
    await screens?.close();
  });

  it.each(AUDITED)('gives %s full marks for accessibility and good practice', async (path) => {
    const asked = { debugPort, cookie: isForManager(path) ? cookie : '' };
    const { scores, below } = await auditScreen(screens.address + path, asked, [
      'accessibility',
      'best-practices',
    ]);
    expect(scores).toMatchObject({ accessibility: 100, 'best-practices': 100 });
    expect(below).toEqual({ performance: [], accessibility: [], 'best-practices': [] });
  });
});
