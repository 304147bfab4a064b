// Debian's Chromium under playwright-core, without its calls to the outside: where it is installed its headless shell,
// the same engine without the parts of a window, which takes little more than half the processor time.

import { existsSync } from 'node:fs';
import {
  type Browser,
  type BrowserContext,
  type BrowserContextOptions,
  chromium,
  type Page,
} from 'playwright-core';

const CHROMIUM = '/usr/bin/chromium';
const SHELL = '/usr/bin/chromium-headless-shell';

interface BrowserOptions {
  /** With notifications and whatever else only a browser with windows has. */
  readonly isWhole?: boolean;
  readonly args?: readonly string[];
}

export const startBrowser = ({ isWhole = false, args = [] }: BrowserOptions = {}): Promise<Browser> =>
  chromium.launch({
    executablePath: process.env.CHROMIUM ?? (!isWhole && existsSync(SHELL) ? SHELL : CHROMIUM),
    args: [
      '--no-sandbox',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--no-first-run',
      ...args,
    ],
  });

/** Files that run in one worker, one after the other, share it; the worker ends it. */
let shared: Promise<Browser> | null = null;
export const sharedBrowser = async (): Promise<Browser> => {
  if (shared !== null && !(await shared).isConnected()) shared = null;
  shared ??= startBrowser();
  return shared;
};

/** Closes all that is open in the browser. */
export const closeContexts = async (browser: Browser | undefined): Promise<void> => {
  await Promise.all((browser?.contexts() ?? []).map((context) => context.close()));
};

/** Signs a person in by the cookie that the server gave; an empty one is nobody's. */
export const carryCookie = async (
  context: BrowserContext,
  cookie: string,
  address: string,
): Promise<void> => {
  const [name, value] = cookie.split('=');
  if (name && value) await context.addCookies([{ name, value, url: address }]);
};

/** A page of its own, signed in by the cookie that the server at `address` gave. */
export const openPageFor = async (
  browser: Browser,
  address: string,
  cookie: string,
  options: BrowserContextOptions = {},
): Promise<Page> => {
  const context = await browser.newContext(options);
  await carryCookie(context, cookie, address);
  return context.newPage();
};
