// Debian's Chromium under playwright-core, without its calls to the outside.

import { type Browser, type BrowserContext, chromium } from 'playwright-core';

export const startBrowser = (more: readonly string[] = []): Promise<Browser> =>
  chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: [
      '--no-sandbox',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--no-first-run',
      ...more,
    ],
  });

/** Signs a person in by the cookie that the server gave; an empty one is nobody's. */
export const carryCookie = async (
  context: BrowserContext,
  cookie: string,
  address: string,
): Promise<void> => {
  const [name, value] = cookie.split('=');
  if (name && value) await context.addCookies([{ name, value, url: address }]);
};
