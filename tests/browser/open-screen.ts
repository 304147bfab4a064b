// Opens a screen as a person does, and resolves when it is there: drawn, its answers in, no complaint in the console.

import type { Browser, Page, Request } from 'playwright-core';
import { expect } from 'vitest';
import { carryCookie } from './browser.ts';

const DESK = { width: 1440, height: 900 };

export interface Opened {
  readonly size?: { readonly width: number; readonly height: number };
  /** Only for the accessibility check, whose script the page's own policy rightly refuses. */
  readonly bypassCSP?: boolean;
  /** Time in the page can be moved on. */
  readonly ownClock?: boolean;
  /** `name=value` of whoever is signed in. */
  readonly cookie?: string;
}

/** `address` is that of the server, without a path. */
export const openScreen = async (
  browser: Browser,
  address: string,
  path: string,
  opened: Opened = {},
): Promise<Page> => {
  const context = await browser.newContext({
    viewport: opened.size ?? DESK,
    colorScheme: 'dark',
    locale: 'en-GB',
    bypassCSP: opened.bypassCSP ?? false,
  });
  await carryCookie(context, opened.cookie ?? '', address);
  const page = await context.newPage();
  if (opened.ownClock) await page.clock.install();
  const complaints: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  const asked = new Set<Request>();
  const isAnswered = (request: Request) => asked.delete(request);
  page.on('request', (request) => {
    // The live line has no end.
    if (!request.url().includes('/api/live')) asked.add(request);
  });
  page.on('requestfinished', isAnswered);
  page.on('requestfailed', isAnswered);
  await page.goto(address + path);
  await page.locator('h1, h2').first().waitFor({ state: 'attached' });
  await page.evaluate('document.fonts.ready.then(() => true)');
  await expect.poll(() => [...asked].map((one) => one.url())).toEqual([]);
  expect(complaints).toEqual([]);
  return page;
};
