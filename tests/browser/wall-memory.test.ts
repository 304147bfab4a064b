import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { alarmView } from '../../dashboard/server/views/alarm-view.ts';
import { closeContexts, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillLab, openScreens } from './built-screens.ts';
import { fastForward, readHeld } from './fast-forward.ts';

const STATIONS = 12;

const browser = await sharedBrowser();

describe('a wall that hangs for days', () => {
  let screens: BuiltScreens;
  beforeAll(async () => {
    screens = await openScreens();
    await fillLab(screens, STATIONS);
  });
  afterAll(async () => {
    await closeContexts(browser);
    await screens?.close();
  });

  it('holds no more of the page on the second and third day than on the first', async () => {
    const { running } = screens.lab;
    const words = () => ({ message: 'm', meaning: 'm', action: 'a', caution: 'c' });
    const reader = { language: 'en', temperatureUnit: 'celsius', hourCycle: 'h23' } as const;
    const alarm = alarmView(running, words, screens.lab.raise('over-ceiling', 'pot-1'), reader);
    screens.lab.step(alarm.id, { type: 'ends', at: running.now() });
    const line = await fastForward({
      address: screens.address,
      stations: running.lab().stations.map(({ id }) => id),
      from: running.now(),
      alarm,
    });
    try {
      const page = await browser.newPage({ viewport: { width: 1920, height: 1080 } });
      const session = await page.context().newCDPSession(page);
      await page.goto(`${line.address}/wall`);
      await page
        .locator('.wall-station')
        .nth(STATIONS - 1)
        .waitFor();
      const live = page.locator('.wall-station[data-station="live"]');
      await line.pass(page, 1);
      const first = await readHeld(session);
      expect(await live.count()).toBe(STATIONS);
      await line.pass(page, 1);
      const second = await readHeld(session);
      await line.pass(page, 1);
      const third = await readHeld(session);
      expect(await live.count()).toBe(STATIONS);
      for (const later of [second, third]) expect(later.listeners).toBe(first.listeners);
      // The browser makes something for itself once, on whichever day; what a page does not let go of is more each day.
      const grownOnBothDays = Math.min(
        second.heapBytes - first.heapBytes,
        third.heapBytes - second.heapBytes,
      );
      expect(grownOnBothDays).toBeLessThan(0.02 * first.heapBytes);
      expect(Math.min(second.nodes, third.nodes)).toBeLessThanOrEqual(first.nodes + STATIONS);
    } finally {
      line.close();
    }
  });
});
