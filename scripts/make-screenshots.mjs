// `node scripts/make-screenshots.mjs`: starts the demonstration, waits until its pot is announced to head over the
// ceiling, and takes the pictures of docs/screenshots; then those of the phone guide. Needs Chromium and Mosquitto.

import { spawnSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { isStillLoading, startDemonstration } from './demonstration.mjs';
import { root } from './ready.mjs';

/** File name, path of the screen, width and height in CSS pixels, colour scheme. */
const PICTURES = [
  ['wall', '/wall', 1920, 1080, 'dark'],
  ['wall-light', '/wall', 1920, 1080, 'light'],
  ['desk', '/', 1440, 900, 'light'],
  ['station', '/station/dip-pot?span=hour', 1440, 1400, 'light'],
  ['phone', '/phone', 390, 844, 'dark'],
  ['night', '/night', 1240, 1400, 'light'],
];
const folder = join(root, 'docs', 'screenshots');

mkdirSync(folder, { recursive: true });
const { address, leave } = await startDemonstration();
try {
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--no-first-run'],
  });
  for (const [name, path, width, height, colorScheme] of PICTURES) {
    const context = await browser.newContext({
      viewport: { width, height },
      colorScheme,
      locale: 'en-GB',
      bypassCSP: true,
    });
    const page = await context.newPage();
    await page.goto(address + path);
    await page.locator('h1, h2').first().waitFor({ state: 'attached' });
    await page.waitForFunction(`!${isStillLoading}`);
    // For what is drawn last, such as a chart.
    await page.waitForTimeout(2500);
    await page.screenshot({ path: join(folder, `${name}.png`) });
    await context.close();
  }
  await browser.close();
} finally {
  leave();
}
const hooks = ['--disable-warning=ExperimentalWarning', '--import', './scripts/typescript-hooks.mjs'];
const guide = spawnSync(process.execPath, [...hooks, 'scripts/make-phone-screenshots.ts'], {
  cwd: root,
  stdio: 'inherit',
});
process.exitCode = guide.status ?? 1;
