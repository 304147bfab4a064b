// What is printed is dark on white from the dark theme too, its charts included.

import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillLab, fillRecords, openScreens } from './built-screens.ts';

/** Runs in the page: how bright the brightest opaque point of the chart is, 0 to 255; on a dark screen it is the line. */
const BRIGHTEST = `(() => {
  const canvas = document.querySelector('canvas');
  const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
  let brightest = 0;
  for (let index = 0; index < data.length; index += 4)
    if (data[index + 3] >= 250)
      brightest = Math.max(brightest, (data[index] + data[index + 1] + data[index + 2]) / 3);
  return brightest;
})()`;

const browser = await sharedBrowser();
let screens: BuiltScreens;
let cookie: string;

beforeAll(async () => {
  screens = await openScreens();
  await fillLab(screens, 2);
  await fillRecords(screens);
  ({ cookie } = await screens.manager());
});
afterAll(async () => {
  await closeContexts(browser);
  await screens?.close();
});

describe('a station on paper', () => {
  it('is dark on white, and on the screen dark again afterwards', async () => {
    const page = await openPageFor(browser, screens.address, cookie, {
      colorScheme: 'dark',
      viewport: { width: 1440, height: 1600 },
    });
    await page.goto(`${screens.address}/station/pot-1`);
    await page.locator('canvas').waitFor();
    const brightest = () => page.evaluate(BRIGHTEST) as Promise<number>;
    await expect.poll(brightest).toBeGreaterThan(200);
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    await page.evaluate("dispatchEvent(new Event('beforeprint'))");
    expect(await page.evaluate('getComputedStyle(document.documentElement).backgroundColor')).toBe(
      'rgb(255, 255, 255)',
    );
    expect(await brightest()).toBeLessThan(200);
    await page.emulateMedia({ media: 'screen', colorScheme: 'dark' });
    await page.evaluate("dispatchEvent(new Event('afterprint'))");
    await expect.poll(brightest).toBeGreaterThan(200);
    await page.close();
  });

  it('has its whole chart, drawn as wide as a desk, within the width of the paper, and no button', async () => {
    const page = await openPageFor(browser, screens.address, '', { viewport: { width: 1440, height: 1600 } });
    await page.goto(`${screens.address}/station/pot-1`);
    await page.locator('canvas').waitFor();
    await page.emulateMedia({ media: 'print' });
    // As the layout of paper, which the script of the chart learns nothing of.
    const [chart, paper] = (await page.evaluate(`(() => {
      document.querySelector('main').style.inlineSize = '700px';
      return ['canvas', 'main'].map((place) => document.querySelector(place).getBoundingClientRect().right);
    })()`)) as readonly [number, number];
    expect(chart).toBeLessThanOrEqual(paper);
    expect(await page.locator('main button:visible').allTextContents()).toEqual([]);
    await page.close();
  });
});

describe('a month on paper', () => {
  it('leaves out what is folded, which no hand can open there', async () => {
    const page = await openPageFor(browser, screens.address, cookie);
    await page.goto(`${screens.address}/month`);
    const folds = page.locator('main summary:visible');
    await folds.first().waitFor();
    await page.emulateMedia({ media: 'print' });
    expect(await folds.count()).toBe(0);
    await page.close();
  });
});

describe('an evidence record on paper', () => {
  it('leaves out the form that opened it and the ways that lead off it', async () => {
    const page = await openPageFor(browser, screens.address, cookie);
    await page.goto(`${screens.address}/evidence?from=2031-03-03&to=2031-03-03`);
    await page.locator('main article').waitFor();
    expect(await page.locator('main :is(input, select, button, a):visible').count()).toBeGreaterThan(3);
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('main :is(input, select, button, a):visible').allTextContents()).toEqual([]);
    await page.close();
  });
});
