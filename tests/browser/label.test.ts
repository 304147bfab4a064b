// Labels that are printed on the computer on which the program runs, where the page's own address opens nowhere else.

import { renderSVG } from 'uqr';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closeContexts, sharedBrowser } from './browser.ts';
import { type BuiltScreens, openScreens } from './built-screens.ts';

const browser = await sharedBrowser();
let screens: BuiltScreens;
beforeAll(async () => {
  screens = await openScreens({ demo: true });
});
afterAll(async () => {
  await closeContexts(browser);
  await screens?.close();
});

/** Opens the page of the pot; returns what is beside the button, and which of the addresses the code on paper holds. */
const labelOf = async (reachedAt: string | null) => {
  const context = await browser.newContext({ locale: 'en-GB', serviceWorkers: 'block' });
  const page = await context.newPage();
  await page.route('**/api/health', async (route) => {
    const answer = await route.fetch();
    await route.fulfill({ response: answer, json: { ...(await answer.json()), reachedAt } });
  });
  await page.goto(`${screens.address}/s/pot-1`);
  await page.getByRole('button', { name: 'Print label' }).waitFor();
  const words = (await page.getByText(/label/).allTextContents()).join(' ');
  const drawn = `${await page.locator('.label-code path').getAttribute('d')}`;
  const encoded = [screens.address, 'https://wax.example'].filter((address) =>
    renderSVG(`${address}/s/pot-1`, { ecc: 'M', border: 2 }).includes(drawn),
  );
  await context.close();
  return { words, encoded };
};

describe('a label printed on the server’s own computer', () => {
  it('warns that no phone can open it while the lab has no network name', async () => {
    const { words, encoded } = await labelOf(null);
    expect(encoded).toEqual([screens.address]);
    expect(words).toContain(
      `No phone can open this label: the page was opened as ${new URL(screens.address).host}`,
    );
  });

  it('carries the network name of the lab once it has one', async () => {
    const { words, encoded } = await labelOf('https://wax.example');
    expect(encoded).toEqual(['https://wax.example']);
    expect(words).toContain('The code on the label opens https://wax.example.');
    expect(words).not.toContain('No phone can open');
  });
});
