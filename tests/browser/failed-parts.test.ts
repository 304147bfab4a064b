// A part of a screen whose figures the server did not give: it shows that and tries again; nothing stands in for them.

import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillLab, fillRecords, openScreens } from './built-screens.ts';

const browser = await sharedBrowser();
let screens: BuiltScreens;
let cookie: string;
beforeAll(async () => {
  screens = await openScreens({ demo: false });
  await fillLab(screens, 2);
  await fillRecords(screens);
  ({ cookie } = await screens.manager());
});
afterAll(() => screens.close());

let page: Page;
beforeEach(async () => {
  page = await openPageFor(browser, screens.address, cookie, {
    locale: 'en-GB',
    serviceWorkers: 'block',
    viewport: { width: 1440, height: 900 },
  });
});
afterEach(() => closeContexts(browser));

const failAt = (address: RegExp): Promise<unknown> => page.route(address, (route) => route.abort());

describe('a part whose figures cannot be read', () => {
  it.each([
    ['heat dose of a pot', '/s/pot-1', /\/api\/charges\/[^/]+\/curve$/, '.charge-course .refusal'],
    ['fit budget of the lab', '/fit-budget', /\/api\/lab$/, '.work .refusal'],
    ['fit budget with the lab’s materials', '/fit-budget', /\/api\/casting-materials$/, '.work .refusal'],
  ])('is named in its own place: %s', async (_, path, address, refusal) => {
    await failAt(address);
    await page.goto(screens.address + path);
    await page.locator(refusal).waitFor();
    expect(await page.getByText(/^Balance /).count()).toBe(0);
  });
});

describe('the heat dose of a pot', () => {
  it('has letters of at least ten pixels beside a narrow column on a desk', async () => {
    await page.goto(`${screens.address}/s/pot-1`);
    const ticks = page.locator('.charge-course .chart-tick');
    await ticks.first().waitFor();
    const sizes = await ticks.evaluateAll((texts) =>
      texts.map((text) => {
        const { a } = (text as SVGTextElement).getScreenCTM() ?? { a: 0 };
        return a * Number.parseFloat(getComputedStyle(text).fontSize);
      }),
    );
    expect(sizes.length).toBeGreaterThan(0);
    expect(sizes.filter((size) => size < 10)).toEqual([]);
  });
});
