// The wall in a real Chromium, measured: type sizes in minutes of arc at the distance set, nothing overlapping, cut or
// outside the screen, no two names alike, in each state that it can be in.

import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  millimetresPerPixel,
  type ViewingConditions,
} from '../../dashboard/web/screens/common/wall/viewing-distance.ts';
import { closeContexts, sharedBrowser } from './browser.ts';
import { type BuiltScreens, openScreens } from './built-screens.ts';
import { standAs, WALL_STATES, type WallState } from './wall-states.ts';

const DISTANCE_METRES = 4;
const DIAGONAL_INCHES = 43;
const FULL_HD = { width: 1920, height: 1080 };
const UPRIGHT = { width: 1080, height: 1920 };
const SIZES = [FULL_HD, UPRIGHT, { width: 1280, height: 720 }, { width: 3840, height: 2160 }];

interface SeenText {
  readonly role: string;
  readonly text: string;
  readonly fontPixels: number;
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  /** Sticks out of its tile, of the foot or of the screen. */
  readonly isOutside: boolean;
}
interface SeenPart {
  readonly name: string;
  readonly texts: readonly SeenText[];
}

/** Runs in the page: every visible text, by the tile or the foot that it is in. */
const LOOK = `[...document.querySelectorAll('.wall-station, .hands')].map((part) => {
  const outer = part.getBoundingClientRect();
  const texts = [];
  const walker = document.createTreeWalker(part, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const element = node.parentElement;
    if (node.data.trim() === '' || element.closest('.unseen')) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    const box = range.getBoundingClientRect();
    const line = element.closest('.facts, .age');
    if (line && (box.top + box.bottom) / 2 >= line.getBoundingClientRect().bottom) continue;
    const size = parseFloat(getComputedStyle(element).fontSize);
    // The box of a line is higher than its letters: capitals and descenders fill about the middle of it.
    const slack = Math.max(0, (box.height / Math.max(1, Math.round(box.height / (size * 1.2))) - size * 0.9) / 2);
    const seen = { left: box.left, top: box.top + slack, right: box.right, bottom: box.bottom - slack };
    texts.push({
      ...seen,
      role: element.tagName === 'SMALL' ? 'unit' : (element.className || element.parentElement.className || element.tagName).split(' ')[0],
      text: node.data,
      fontPixels: size,
      isOutside:
        seen.left < Math.max(0, outer.left) - 1 || seen.right > Math.min(innerWidth, outer.right) + 1 ||
        seen.top < Math.max(0, outer.top) - 1 || seen.bottom > Math.min(innerHeight, outer.bottom) + 1,
    });
  }
  return { name: part.querySelector('h2')?.textContent ?? 'foot', texts };
})`;

const FIRST = new Set(['digits', 'alarm-word']);
const ADVICE = new Set(['advice', 'sound']);
const leastArc = (role: string): number => (FIRST.has(role) ? 25 : ADVICE.has(role) ? 15 : 12);

const CAP_HEIGHT = 0.7;
const arcMinutes = (fontPixels: number, size: { width: number; height: number }): number => {
  const viewing: ViewingConditions = {
    distance_metres: DISTANCE_METRES,
    diagonal_inches: DIAGONAL_INCHES,
    width_pixels: size.width,
    height_pixels: size.height,
  };
  const millimetres = fontPixels * CAP_HEIGHT * millimetresPerPixel(viewing);
  return (2 * Math.atan(millimetres / (2000 * DISTANCE_METRES)) * 180 * 60) / Math.PI;
};

const overlap = (first: SeenText, second: SeenText): boolean =>
  Math.min(first.right, second.right) - Math.max(first.left, second.left) > 2 &&
  Math.min(first.bottom, second.bottom) - Math.max(first.top, second.top) > 2;

/** What is wrong with what is seen, in words; empty when all is right. */
const faultsOf = (parts: readonly SeenPart[], size: { width: number; height: number }): readonly string[] => {
  const texts = parts.flatMap((part) => part.texts);
  const small = texts
    .filter(({ role, fontPixels }) => arcMinutes(fontPixels, size) < leastArc(role) - 0.05)
    .map(
      ({ role, text, fontPixels }) =>
        `${role} "${text}" fills ${arcMinutes(fontPixels, size).toFixed(1)} minutes of arc`,
    );
  const outside = texts
    .filter(({ isOutside }) => isOutside)
    .map(({ role, text }) => `${role} "${text}" is cut`);
  const overlapping = parts.flatMap(({ texts: own }) =>
    own.flatMap((upper, index) =>
      own
        .slice(index + 1)
        .filter((lower) => overlap(upper, lower))
        .map((lower) => `"${upper.text}" lies on "${lower.text}"`),
    ),
  );
  const names = parts.map(({ name }) => name);
  const alike = names.filter((name, index) => names.indexOf(name) !== index).map((name) => `"${name}" twice`);
  return [...small, ...outside, ...overlapping, ...alike];
};

const browser = await sharedBrowser();
let screens: BuiltScreens;
afterAll(() => closeContexts(browser));
beforeEach(async () => {
  screens = await openScreens();
});
afterEach(async () => {
  await Promise.all([...walls.values()].map((page) => page.goto('about:blank')));
  await screens.close();
});

const openAt = async (page: Page): Promise<void> => {
  await page.goto(`${screens.address}/wall`);
  await page.locator('.wall-station').first().waitFor();
  await page.evaluate('document.fonts.ready.then(() => true)');
};

type Language = 'en' | 'de';
/** One page for each language goes from wall to wall, which costs half of what a new page does. */
const walls = new Map<Language, Page>();
const newWall = async (language: Language): Promise<Page> => {
  const context = await browser.newContext({ viewport: FULL_HD, colorScheme: 'dark', locale: 'en-GB' });
  const settings = { language, distance_metres: DISTANCE_METRES, diagonal_inches: DIAGONAL_INCHES };
  await context.addInitScript(`localStorage.setItem('waxwarden.settings', '${JSON.stringify(settings)}')`);
  const page = await context.newPage();
  walls.set(language, page);
  return page;
};
const openWall = async (language: Language): Promise<Page> => {
  const page = walls.get(language) ?? (await newWall(language));
  await page.setViewportSize(FULL_HD);
  await openAt(page);
  return page;
};

const twoFrames = 'new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))';
const look = async (page: Page): Promise<readonly SeenPart[]> => {
  await page.evaluate(twoFrames);
  return (await page.evaluate(LOOK)) as readonly SeenPart[];
};

/** For whoever wants to look at them: `WAXWARDEN_PICTURES=FOLDER`. */
const { WAXWARDEN_PICTURES: pictures } = process.env;
const keepPicture = async (page: Page, name: string): Promise<void> => {
  if (pictures === undefined) return;
  const language = await page.evaluate('document.documentElement.lang');
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme });
    const file = `wall-${name}-${colorScheme}-${language}.png`.replaceAll(' ', '-');
    await page.screenshot({ path: join(pictures, file) });
  }
};

const COUNTS = [1, 8, 40, 60];
const CASES = WALL_STATES.flatMap((state) => COUNTS.map((count) => ({ state, count })));

describe('the wall on every screen', () => {
  it.each(CASES)(
    'keeps every size, overlaps and cuts nothing in English and German with $count stations, $state',
    async ({ state, count }) => {
      standAs(screens.lab, state, count);
      const walls = [await openWall('en'), await openWall('de')];
      if (state === 'line lost') screens.leave();
      for (const page of walls) {
        if (state === 'line lost') await page.locator('.hands[data-standing="lost"]').waitFor();
        for (const size of SIZES) {
          await page.setViewportSize(size);
          const parts = await look(page);
          await keepPicture(page, `${count}-${state}-${size.width}x${size.height}`);
          expect(faultsOf(parts, size), `${size.width} by ${size.height}`).toEqual([]);
        }
      }
    },
  );
});

describe('the wall', () => {
  const standing = (page: Page): Promise<string | null> =>
    page.locator('.hands').getAttribute('data-standing');
  const EXPECTED: Readonly<Record<WallState, string>> = {
    calm: 'in-order',
    'read each minute': 'in-order',
    alarm: 'alarms',
    'many alarms': 'alarms',
    acknowledged: 'acknowledged',
    was: 'past',
    silent: 'without-data',
    'never measured': 'without-data',
    'line lost': 'alarms',
  };

  it.each(WALL_STATES)(
    'says that all is in order when every station is measured and calm, and otherwise never: %s',
    async (state) => {
      standAs(screens.lab, state, 8);
      const page = await openWall('en');
      expect(await standing(page)).toBe(EXPECTED[state]);
      expect(await page.getByText('All in order').count()).toBe(EXPECTED[state] === 'in-order' ? 1 : 0);
    },
  );

  it('shows neither that no station is set up nor the time before the lab has answered', async () => {
    standAs(screens.lab, 'calm', 4);
    const page = await browser.newPage({ locale: 'en-GB' });
    const held: (() => void)[] = [];
    await page.route('**/api/stations*', async (route) => {
      await new Promise<void>((letGo) => held.push(letGo));
      await route.continue();
    });
    await page.goto(`${screens.address}/wall`);
    await page.getByText('Loading the lab…').waitFor();
    expect(await page.getByText('No station is set up yet').count()).toBe(0);
    expect(await page.locator('.clock').count()).toBe(0);
    for (const letGo of held) letGo();
    await page.locator('.wall-station').first().waitFor();
    expect(await page.locator('.clock').count()).toBe(1);
  });

  it('gives a pot that is back in its window its present state, and what was in small with no advice', async () => {
    standAs(screens.lab, 'was', 8);
    const page = await openWall('en');
    const pot = page.locator('.wall-station').first();
    expect(await pot.locator('.state').textContent()).toContain('In window');
    expect(await pot.locator('.tile-note').textContent()).toBe(
      'Was: Over ceiling, 09:00 to 09:01. Acknowledge at the station.',
    );
    expect(await page.getByText('Turn it down').count()).toBe(0);
  });

  it('shows twelve alarms at full size, worst first, and the rest by name and count, upright too', async () => {
    standAs(screens.lab, 'many alarms', 60);
    for (const [language, rest] of [
      ['en', '5 more alarms: '],
      ['de', '5 weitere Alarme: '],
    ] as const) {
      const page = await openWall(language);
      for (const size of [FULL_HD, UPRIGHT]) {
        await page.setViewportSize(size);
        await page.evaluate(twoFrames);
        expect(await page.locator('.wall-alarms .alarm-word').count(), `${language} ${size.width}`).toBe(12);
        await page.locator('.hands').getByText(rest).waitFor();
      }
    }
  });

  it('shows the pot over its ceiling before the silent gateway that was raised after it', async () => {
    standAs(screens.lab, 'alarm', 40);
    const page = await openWall('en');
    const words = await page.locator('.alarm-word').allTextContents();
    expect(words).toEqual(['Over ceiling', 'Erratic heat', 'Gateway offline']);
  });

  it('shows every calm station within its numbered pages', async () => {
    standAs(screens.lab, 'calm', 60);
    // Away from the instant at which a page turns.
    screens.lab.pass(5);
    const page = await openWall('en');
    const numbers = async (): Promise<readonly [page: number, pages: number]> => {
      const text = (await page.locator('.hands-second').textContent()) ?? '';
      const [, shown, all] = /Page (\d+) of (\d+)/.exec(text) ?? [];
      return [Number(shown), Number(all)];
    };
    const [, pages] = await numbers();
    expect(pages).toBeGreaterThan(1);
    const seen = new Set<string | null>();
    for (let turned = 0; turned < pages; turned += 1) {
      const [shown] = await numbers();
      for (const station of await page.locator('.wall-station a').all())
        seen.add(await station.getAttribute('href'));
      screens.lab.pass(12);
      await page.getByText(`Page ${(shown % pages) + 1} of ${pages}`).waitFor();
    }
    expect(seen.size).toBe(60);
  });

  it('is marked as a demonstration in the demonstration alone', async () => {
    standAs(screens.lab, 'calm', 4);
    const page = await openWall('en');
    expect(await page.locator('.demonstration').textContent()).toBe('Demonstration');
  });
});
