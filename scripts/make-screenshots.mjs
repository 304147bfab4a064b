// `node scripts/make-screenshots.mjs`: starts the demonstration, waits until its pot is announced to head over the
// ceiling, and takes the pictures of docs/screenshots; then those of the phone guide. Needs Chromium and Mosquitto.

import { spawn, spawnSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { chromium } from 'playwright-core';
import { ensureBuilt, ensureInstalled, root } from './ready.mjs';

/** File name, path of the screen, width and height in CSS pixels, colour scheme. */
const PICTURES = [
  ['wall', '/wall', 1920, 1080, 'dark'],
  ['wall-light', '/wall', 1920, 1080, 'light'],
  ['desk', '/', 1440, 900, 'light'],
  ['station', '/station/dip-pot?span=hour', 1440, 1100, 'light'],
  ['phone', '/phone', 390, 844, 'dark'],
  ['night', '/night', 1240, 1400, 'light'],
];
const folder = join(root, 'docs', 'screenshots');

ensureInstalled();
ensureBuilt();
mkdirSync(folder, { recursive: true });
const demo = spawn(
  process.execPath,
  [
    '--disable-warning=ExperimentalWarning',
    'dist/cli/main.js',
    '--demo',
    '--port',
    '0',
    '--broker',
    'embedded:0',
  ],
  { cwd: root, stdio: ['ignore', 'pipe', 'inherit'] },
);
let printed = '';
demo.stdout.on('data', (chunk) => {
  printed += chunk;
});
const until = async (look) => {
  for (;;) {
    const seen = await look();
    if (seen) return seen;
    await delay(500);
  }
};
try {
  const address = await until(() => /Open (http:\S+[^/\s])/.exec(printed)?.[1]);
  await until(async () => {
    const alarms = await (await fetch(`${address}/api/alarms`)).json();
    return alarms.some(({ rule, active }) => rule === 'heading-over' && active);
  });
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--no-first-run'],
  });
  for (const [name, path, width, height, colorScheme] of PICTURES) {
    const context = await browser.newContext({ viewport: { width, height }, colorScheme, locale: 'en-GB' });
    const page = await context.newPage();
    await page.goto(address + path);
    await page.waitForTimeout(2500);
    await page.screenshot({ path: join(folder, `${name}.png`) });
    await context.close();
  }
  await browser.close();
} finally {
  demo.kill('SIGTERM');
}
const hooks = ['--disable-warning=ExperimentalWarning', '--import', './scripts/typescript-hooks.mjs'];
const guide = spawnSync(process.execPath, [...hooks, 'scripts/make-phone-screenshots.ts'], {
  cwd: root,
  stdio: 'inherit',
});
process.exitCode = guide.status ?? 1;
