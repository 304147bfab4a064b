// What is touched with waxy fingers is large enough to be hit: every target of every screen on a phone.

import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillLab, fillRecords, openScreens } from './built-screens.ts';
import { type PageWatch, watchPage } from './page-watch.ts';
import { isForManager, PLACES } from './places.ts';

/** CSS pixels. */
const LEAST = 44;

/**
 * Runs in the page: what is smaller than it must be. A link within a list or a table that has more text is as high as its
 * line (WCAG 2.2, 2.5.8 excepts it); a box to tick is hit by its label as well.
 */
const tooSmall = `(least) => {
  const shown = (element) => element.checkVisibility({ opacityProperty: true, visibilityProperty: true });
  const words = (element) => element.textContent.trim();
  const isInSentence = (link) =>
    link.matches('a') && !link.closest('p, h2, h3') && getComputedStyle(link).display === 'inline' &&
    words(link.parentElement).length > words(link).length;
  const areaOf = (element) => {
    const label = element.matches('[type=checkbox], [type=radio]') &&
      (element.closest('label') ?? document.querySelector('label[for="' + element.id + '"]'));
    const boxes = [element, ...(label ? [label] : [])].map((each) => each.getBoundingClientRect());
    const [left, right] = [Math.min(...boxes.map((box) => box.left)), Math.max(...boxes.map((box) => box.right))];
    const [top, bottom] = [Math.min(...boxes.map((box) => box.top)), Math.max(...boxes.map((box) => box.bottom))];
    return { width: right - left, height: bottom - top };
  };
  return [...document.querySelectorAll('a, button, input, select, textarea, summary')]
    .filter((element) => shown(element) && !isInSentence(element))
    .map((element) => ({ element, ...areaOf(element) }))
    .filter(({ width, height }) => Math.round(width) < least || Math.round(height) < least)
    .map(({ element, width, height }) =>
      Math.round(width) + ' x ' + Math.round(height) + ': ' + element.outerHTML.slice(0, 120));
}`;

const browser = await sharedBrowser();
let screens: BuiltScreens;
let page: Page;
let watch: PageWatch;

beforeAll(async () => {
  screens = await openScreens();
  await fillLab(screens, 6);
  await fillRecords(screens);
  screens.lab.raise('over-ceiling', 'pot-1');
  page = await openPageFor(browser, screens.address, (await screens.manager()).cookie, {
    viewport: { width: 390, height: 844 },
    locale: 'en-GB',
    hasTouch: true,
    isMobile: true,
  });
  watch = watchPage(page);
});
afterAll(async () => {
  await closeContexts(browser);
  await screens?.close();
});

describe('on a phone', () => {
  it.each(PLACES.filter(isForManager))(`has %s no target smaller than ${LEAST} px`, async (path) => {
    await page.goto(screens.address + path);
    await watch.expectLoaded();
    expect(await page.evaluate(`(${tooSmall})(${LEAST})`)).toEqual([]);
  });
});
