// Debian's Chromium under playwright-core, without its calls to the outside.

import { type Browser, chromium } from 'playwright-core';

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
