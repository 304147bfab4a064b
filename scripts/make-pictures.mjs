// `node scripts/make-pictures.mjs [--only wall,night] [--width 390,1440] [--theme light] [--language de] [--fold] [--to FOLDER]`: a
// picture of every screen of the demonstration, whole page or with `--fold` what is in sight, at the width of a phone, a desk and two walls, in both
// themes and in English and German, as its manager sees it. Each choice narrows what is taken. Needs Chromium.

import { mkdirSync } from 'node:fs';
import { join, relative } from 'node:path';
import { parseArgs } from 'node:util';
import { chromium } from 'playwright-core';
import { isStillLoading, signInToDemonstration, startDemonstration } from './demonstration.mjs';
import { root } from './ready.mjs';
import './typescript-hooks.mjs';

const { PLACES } = await import('../dashboard/web/base/places.ts');

/** CSS pixels. */
const SIZES = [
  { width: 390, height: 844 },
  { width: 1440, height: 900 },
  { width: 1920, height: 1080 },
  { width: 3840, height: 2160 },
];
const THEMES = ['dark', 'light'];
const LANGUAGES = ['en', 'de'];
/** For what a screen still loads and draws once its heading is shown. */
const SETTLED_MILLIS = 1200;

const { values: asked } = parseArgs({
  options: {
    only: { type: 'string' },
    width: { type: 'string' },
    theme: { type: 'string' },
    language: { type: 'string' },
    fold: { type: 'boolean', default: false },
    to: { type: 'string', default: join(root, 'dist', 'pictures') },
  },
});
const chosen = (all, text, nameOf = String) => {
  if (text === undefined) return all;
  const names = text.split(',');
  const unknown = names.filter((name) => !all.some((each) => nameOf(each) === name));
  if (unknown.length === 0) return all.filter((each) => names.includes(nameOf(each)));
  console.error(`Unknown: ${unknown.join(', ')}. There are: ${all.map(nameOf).join(', ')}`);
  process.exit(2);
};
/** What a screen shows only at an address of its own. */
const FURTHER = {
  ...Object.fromEntries(
    ['probe', 'station', 'live', 'phone', 'people'].map((step) => [`begin/${step}`, `/begin?step=${step}`]),
  ),
  'set-up/rules/rule': '/set-up/rules?station=:station&rule=over-ceiling',
  'evidence/span': '/evidence?from=:yesterday&to=:yesterday',
  'not-found': '/nothing-here',
};
const places = chosen(Object.entries({ ...PLACES, ...FURTHER }), asked.only, ([name]) => name);
const sizes = chosen(SIZES, asked.width, ({ width }) => String(width));
const themes = chosen(THEMES, asked.theme);
const languages = chosen(LANGUAGES, asked.language);

const firstOf = async (address, path, cookie) => {
  const answer = await fetch(address + path, { headers: { cookie: `${cookie.name}=${cookie.value}` } });
  return (await answer.json())[0]?.id ?? 'none';
};
const filled = (path, values) =>
  Object.entries(values).reduce((filling, [name, value]) => filling.replaceAll(`:${name}`, value), path);

const { address, leave } = await startDemonstration();
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--no-first-run'],
});
try {
  const cookie = await signInToDemonstration(address, 'manager');
  const values = {
    station: 'dip-pot',
    pattern: await firstOf(address, '/api/patterns', cookie),
    lot: await firstOf(address, '/api/lots', cookie),
    probe: await firstOf(address, '/api/probes', cookie),
    yesterday: new Date(Date.now() - 86_400_000).toISOString().slice(0, 10),
  };
  mkdirSync(asked.to, { recursive: true });
  for (const language of languages)
    for (const theme of themes)
      for (const size of sizes) {
        const context = await browser.newContext({
          viewport: size,
          colorScheme: theme,
          locale: 'en-GB',
          bypassCSP: true,
        });
        await context.addCookies([cookie]);
        await context.addInitScript(
          `localStorage.setItem('waxwarden.settings', '${JSON.stringify({ language, unit: 'celsius', hourCycle: 'h23' })}')`,
        );
        const page = await context.newPage();
        for (const [name, path] of places) {
          await page.goto(address + filled(path, values));
          await page.locator('h1, h2').first().waitFor({ state: 'attached' });
          await page.waitForFunction(`!${isStillLoading}`);
          // Charts are drawn once they are scrolled to.
          await page.evaluate('scrollTo(0, document.documentElement.scrollHeight)');
          await page.waitForTimeout(SETTLED_MILLIS);
          await page.evaluate('scrollTo(0, 0)');
          const file = join(asked.to, `${name.replaceAll('/', '-')}-${size.width}-${theme}-${language}.png`);
          await page.screenshot({ path: file, fullPage: name !== 'wall' && !asked.fold });
          console.log(relative(process.cwd(), file));
        }
        await context.close();
      }
} finally {
  await browser.close();
  leave();
}
