// Opens a screen as a person does, and resolves when it is there: drawn, its answers in, no complaint in the console.

import type { Browser, Page } from 'playwright-core';
import { openPageFor } from './browser.ts';
import { watchPage } from './page-watch.ts';

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
  const page = await openPageFor(browser, address, opened.cookie ?? '', {
    viewport: opened.size ?? DESK,
    colorScheme: 'dark',
    locale: 'en-GB',
    bypassCSP: opened.bypassCSP ?? false,
  });
  if (opened.ownClock) await page.clock.install();
  const { expectLoaded } = watchPage(page);
  await page.goto(address + path);
  await expectLoaded();
  return page;
};
