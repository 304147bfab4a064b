// `node scripts/time-journeys.mjs`: what people do with the program, walked in a browser and timed. It prints the table of
// docs/journeys.md: taps, fields and keys, the seconds that the program takes, and what a person would take by the
// keystroke-level model. Needs Chromium.

import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { signInToDemonstration, startDemonstration, until } from './demonstration.mjs';
import { ensureBuilt, ensureInstalled, root } from './ready.mjs';

const PHONE = { width: 390, height: 844 };
const DESK = { width: 1440, height: 900 };

/** Card, Moran and Newell, CACM 23(7):396, 1980 (from memory): a key of a person who types seldom, a pointing, a thought. */
const KEY_SECONDS = 0.28;
const POINT_SECONDS = 1.1;
const THINK_SECONDS = 1.35;

const personSeconds = ({ taps, entries, keys }) =>
  (taps + entries) * (POINT_SECONDS + THINK_SECONDS) + keys * KEY_SECONDS;

/** The hands of a person: each act is counted, and only the program's own time passes between them. */
const handsOn = (page) => {
  const count = { taps: 0, entries: 0, keys: 0 };
  const tap = async (locator) => {
    count.taps += 1;
    await locator.click();
  };
  return {
    count,
    press: (name) => tap(page.getByRole('button', { name, exact: true }).first()),
    enter: async (label, text) => {
      count.entries += 1;
      count.keys += text.length;
      await page.getByLabel(label, { exact: true }).first().fill(text);
    },
    choose: async (label, option) => {
      count.entries += 1;
      count.taps += 1;
      await page.getByLabel(label, { exact: true }).first().selectOption(option);
    },
    see: (text) => page.getByText(text).first().waitFor(),
  };
};

const FIRST_STEPS = {
  name: 'Empty lab to the first live station, without a shell',
  size: PHONE,
  walk: async ({ enter, choose, press, see }, page, { address, code }) => {
    await page.goto(address);
    await enter('One-time code', code);
    await enter('Name', 'Nadia Ferrer');
    await enter('New password', 'nine cool drawers of wax');
    await press('Get started');
    await enter('Name of the lab', 'Hill Road Laboratory');
    await press('Continue');
    await press('Make a test reading');
    await see('21.5 °C');
    await press('Continue');
    await enter('Name of the station', 'Pattern shelf');
    await choose('Kind', 'shelf');
    await choose('Wax', 'inlay-type-2');
    await press('Continue');
    await page.getByRole('heading', { name: 'The live station', exact: true }).waitFor();
    await press('Make a test reading');
    await page.locator('.station-row', { hasText: 'Pattern shelf' }).getByText('21.5 °C').waitFor();
  },
};

const IN_THE_DEMONSTRATION = [
  {
    name: 'Alarm on the phone to acknowledged',
    role: 'technician',
    size: PHONE,
    walk: async ({ press }, page, { address }) => {
      await page.goto(`${address}/phone`);
      const open = page.locator('.alarm[data-attention="unacknowledged"]');
      await open.first().waitFor();
      const before = await open.count();
      await press('Acknowledge');
      await until(async () => (await open.count()) < before);
    },
  },
  {
    name: 'Pattern registered, seated on its die, invested',
    role: 'technician',
    size: PHONE,
    walk: async ({ enter, press, see }, page, { address }) => {
      await page.goto(`${address}/patterns/new`);
      await enter('Case reference', 'AB-1050 crown 11');
      await press('Save pattern');
      await page.getByRole('heading', { name: 'AB-1050 crown 11' }).waitFor();
      await press('Seated on the die');
      await page.locator('.done-acts li', { hasText: 'Seated on the die' }).waitFor();
      await press('Invested');
      await see(/^invested, /);
    },
  },
  {
    name: 'Recall: a lot number to every pattern and pot that holds its wax',
    role: 'technician',
    size: DESK,
    walk: async ({ enter, press, see }, page, { address }) => {
      await page.goto(`${address}/lots`);
      await enter('Maker or lot number', 'bg 2207');
      await press('Find what holds it');
      await see(/BG-2207/);
      await page.locator('table').first().waitFor();
    },
  },
  {
    name: 'Night sheet read, signed, and as a PDF with name, instant and digest',
    role: 'manager',
    size: DESK,
    walk: async ({ press, count }, page, { address }) => {
      await page.goto(`${address}/night`);
      await press('Sign these figures');
      await page.locator('li', { hasText: 'Dana Okafor' }).last().waitFor();
      count.taps += 1;
      const href = await page.getByRole('link', { name: 'PDF, A4' }).getAttribute('href');
      const answer = await page.request.get(address + href);
      const pdf = await answer.body();
      if (!answer.ok() || pdf.subarray(0, 5).toString() !== '%PDF-') throw new Error('There is no PDF.');
    },
  },
  {
    name: 'Person added, with a code to hand over',
    role: 'manager',
    size: DESK,
    walk: async ({ enter, press, see }, page, { address }) => {
      await page.goto(`${address}/set-up/people`);
      await enter('Name', 'Ilse Brandt');
      await press('Add this person');
      await see(/signs in with the code/);
    },
  },
  {
    name: 'Figure of a rule changed, and what it would have raised',
    role: 'manager',
    size: DESK,
    walk: async ({ press, see, count }, page, { address }) => {
      await page.goto(`${address}/set-up/rules?station=window-shelf&rule=storage-swing`);
      count.entries += 1;
      count.keys += 1;
      await page.getByRole('spinbutton', { name: /^peak to peak/i }).fill('3');
      await press('What would it have raised?');
      await see(/It would have raised/);
    },
  },
];

const walk = async (browser, { name, size, walk: take }, place, cookie) => {
  const context = await browser.newContext({ viewport: size, locale: 'en-GB' });
  if (cookie !== undefined) await context.addCookies([cookie]);
  const page = await context.newPage();
  const hands = handsOn(page);
  const began = performance.now();
  try {
    await take(hands, page, place);
  } catch (error) {
    await page.screenshot({ path: join(tmpdir(), 'waxwarden-journey.png') });
    console.error(`${name} ended at ${page.url()}; what was in sight: ${tmpdir()}/waxwarden-journey.png`);
    throw error;
  }
  const seconds = (performance.now() - began) / 1000;
  await context.close();
  const { taps, entries, keys } = hands.count;
  const person = Math.round(seconds + personSeconds(hands.count));
  console.log(`| ${name} | ${taps} | ${entries} | ${keys} | ${seconds.toFixed(1)} | ${person} |`);
};

const walkFirstSteps = async (browser) => {
  const data = mkdtempSync(join(tmpdir(), 'waxwarden-journey-'));
  const program = [
    '--disable-warning=ExperimentalWarning',
    'dist/cli/main.js',
    ...['--data', data, '--port', '0', '--broker', 'embedded:0'],
  ];
  const lab = spawn(process.execPath, program, { cwd: root, stdio: ['ignore', 'pipe', 'inherit'] });
  let printed = '';
  lab.stdout.on('data', (chunk) => {
    printed += chunk;
  });
  try {
    const address = await until(() => /Open (http:\S+[^/\s])/.exec(printed)?.[1]);
    const code = await until(() => /with the code (\S+)/.exec(printed)?.[1]);
    await walk(browser, FIRST_STEPS, { address, code });
  } finally {
    const ended = new Promise((resolve) => lab.once('exit', resolve));
    lab.kill('SIGTERM');
    await ended;
    rmSync(data, { recursive: true, force: true });
  }
};

ensureInstalled();
await ensureBuilt();
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--no-first-run'],
});
try {
  console.log('| journey | taps | fields | keys | the program, s | a person, s |\n|---|---|---|---|---|---|');
  await walkFirstSteps(browser);
  const { address, leave } = await startDemonstration();
  try {
    for (const journey of IN_THE_DEMONSTRATION)
      await walk(browser, journey, { address }, await signInToDemonstration(address, journey.role));
  } finally {
    leave();
  }
} finally {
  await browser.close();
}
