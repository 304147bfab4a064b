// The screens that show the state of stations, before axe in each state that they can be in. `WAXWARDEN_EVERY_SCREEN=1`
// looks at every screen, which takes minutes; `WAXWARDEN_PICTURES=FOLDER` keeps a picture of each.

import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { axeFaults } from './axe.ts';
import { closeContexts, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillRecords, openScreens } from './built-screens.ts';
import { openScreen } from './open-screen.ts';
import { PLACES } from './places.ts';
import { standAs, WALL_STATES } from './wall-states.ts';

const SHOWING_STATES = ['/', '/wall', '/phone', '/station/pot-1'];
const { WAXWARDEN_EVERY_SCREEN: every, WAXWARDEN_PICTURES: pictures } = process.env;
const screensAsked = every === undefined ? SHOWING_STATES : PLACES;
const LOOKS = [
  { size: { width: 1440, height: 900 }, colorScheme: 'dark' },
  { size: { width: 390, height: 844 }, colorScheme: 'light' },
] as const;
const STATIONS = 8;
/** The page takes two seconds without a beat for a dead line. */
const LOST_MILLIS = 6000;

describe('the screens that show the state of stations', () => {
  let browser: Browser;
  let screens: BuiltScreens;
  let cookie: string;
  beforeAll(async () => {
    browser = await sharedBrowser();
  });
  afterAll(() => closeContexts(browser));

  describe.each(WALL_STATES)('in the state %s', (state) => {
    beforeAll(async () => {
      screens = await openScreens();
      await fillRecords(screens);
      cookie = (await screens.manager()).cookie;
      standAs(screens.lab, state, STATIONS);
    });
    afterAll(async () => {
      await closeContexts(browser);
      await screens.close();
    });

    it.each(screensAsked)('%s passes axe', async (path) => {
      const page = await openScreen(browser, screens.address, path, {
        bypassCSP: true,
        cookie,
        ...(state === 'line lost' && { ownClock: true }),
      });
      if (state === 'line lost') {
        screens.pullCable();
        await page.clock.runFor(LOST_MILLIS);
      }
      const found: Record<string, readonly string[]> = {};
      for (const { size, colorScheme } of LOOKS) {
        await page.setViewportSize(size);
        await page.emulateMedia({ colorScheme });
        if (pictures !== undefined)
          await page.screenshot({
            path: join(pictures, `${state}${path}`.replaceAll(/[ /?]/g, '-').concat(`-${size.width}.png`)),
            fullPage: path !== '/wall',
          });
        found[colorScheme] = await axeFaults(page);
      }
      screens.mend();
      await page.close();
      expect(found).toEqual({ dark: [], light: [] });
    });
  });
});
