// `node scripts/make-icons.mjs`: draws the icons of the home screen from the mark, dashboard/web/public/waxwarden.svg.
// Needs Chromium. Run it when the mark changes.

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { root } from './ready.mjs';

const folder = join(root, 'dashboard', 'web', 'public');
const mark = readFileSync(join(folder, 'waxwarden.svg'), 'utf8');
/** File, side in pixels, and how much of it the mark takes: launchers cut a maskable icon to their own shape. */
const ICONS = [
  ['icon-180', 180, 1],
  ['icon-192', 192, 1],
  ['icon-512', 512, 1],
  ['icon-maskable-512', 512, 0.7],
];
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--no-first-run'],
});
for (const [name, side, share] of ICONS) {
  const page = await browser.newPage({ viewport: { width: side, height: side } });
  await page.setContent(
    `<style>body{margin:0;display:grid;place-items:center;block-size:100vh;background:#16171a}svg{inline-size:${100 * share}%;block-size:auto}</style>${mark}`,
  );
  await page.screenshot({ path: join(folder, `${name}.png`) });
  await page.close();
}
await browser.close();
