// What a group offers, on the lab's own screen in a real Chromium: announced, read, declined, accepted, in two languages.

import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Offer } from '../../lab/group/group-offer.ts';
import { NO_GROUP_LINK } from '../../lab/group/group-link.ts';
import { axeFaults } from './axe.ts';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';
import { type BuiltScreens, openScreens } from './built-screens.ts';

const offerOf = (id: string, items: Offer['items']): Offer => ({
  id,
  note: `Note of ${id}`,
  by: 'Noor Berg',
  offered_at: '2031-03-03T07:00:00.000Z',
  items,
});
const HOTTER = offerOf('hotter01', [
  { kind: 'wax-values', wax: 'inlay-type-2', values: { ceiling: 99.5 } },
  { kind: 'rule-figures', place: 'melt-pot', rule: 'over-ceiling', figures: { on_delay_seconds: 45 } },
  {
    kind: 'lot',
    maker: 'Kerber',
    lot: 'X-9',
    wax: 'inlay-type-2',
    expires_on: '2033-05-31',
    sheet_values: { ceiling: 98 },
  },
]);
const CONTRADICTING = offerOf('toocold1', [
  { kind: 'wax-values', wax: 'inlay-type-2', values: { ceiling: 20 } },
]);

const browser = await sharedBrowser();
let screens: BuiltScreens;
beforeEach(async () => {
  screens = await openScreens({ demo: false });
});
afterEach(async () => {
  await closeContexts(browser);
  await screens.close();
});

const openPage = async (path: string, locale = 'en-GB', width = 1280): Promise<Page> => {
  const { cookie } = await screens.manager();
  const page = await openPageFor(browser, screens.address, cookie, {
    viewport: { width, height: 900 },
    locale,
    bypassCSP: true,
  });
  await page.goto(`${screens.address}${path}`);
  await page.getByRole('heading', { level: 1 }).waitFor();
  return page;
};
const ceilingNow = () => screens.lab.running.lab().waxOverrides['inlay-type-2']?.ceiling;

describe('offers of the group on the screen of a lab', () => {
  it('are announced on the home screen, show what would change with the caution of heat, and hold once accepted', async () => {
    screens.lab.groupOffers.take([HOTTER], 1000);
    const page = await openPage('/');
    await page.getByRole('link', { name: 'To the offers' }).click();
    await page.getByText('Note of hotter01').waitFor();
    const offer = page.locator('section').filter({ hasText: 'Note of hotter01' });
    const cells = await offer.locator('tbody th, tbody td').allTextContents();
    expect(cells.join(' | ')).toMatch(/Ceiling \| [\d.]+\s°C \| 99\.5\s°C/);
    expect(cells.join(' | ')).toMatch(/On-delay.*\| 0 \| 45/);
    expect(cells.join(' | ')).toMatch(/Lot X-9 of Kerber/);
    expect(await axeFaults(page)).toEqual([]);
    await offer.getByRole('button', { name: 'Accept' }).click();
    await offer.getByText('hot wax burns').waitFor();
    expect(ceilingNow()).toBeUndefined();
    await offer.getByLabel('Why').fill('as agreed');
    await offer.getByRole('button', { name: 'Accept these changes' }).click();
    await page.getByText('The offer is accepted').waitFor();
    await page.getByText('The group offers nothing now.').waitFor();
    expect(ceilingNow()).toBe(99.5);
    await page.goto(screens.address);
    await page.getByRole('heading', { level: 1 }).waitFor();
    expect(await page.getByRole('link', { name: 'To the offers' }).count()).toBe(0);
  });

  it('that contradict the wax can only be declined, with the reason, in German on a phone', async () => {
    screens.lab.groupOffers.take([CONTRADICTING], 1000);
    const page = await openPage('/', 'de-DE', 390);
    await page.getByRole('link', { name: 'Zu den Angeboten' }).click();
    await page.getByText('kann es nicht übernommen werden').waitFor();
    expect(await page.getByRole('button', { name: 'Übernehmen' }).count()).toBe(0);
    const overflow = 'document.documentElement.scrollWidth - document.documentElement.clientWidth';
    expect(await page.evaluate<number>(overflow)).toBe(0);
    await page.getByRole('button', { name: 'Ablehnen' }).click();
    await page.getByRole('button', { name: 'Dieses Angebot ablehnen' }).click();
    await page.getByText('Das Angebot ist abgelehnt').waitFor();
    expect(screens.lab.groupOffers.dueAnswer()).toMatchObject({ id: 'toocold1', answer: 'declined' });
  });

  it('are shown as none while the link is on, and leave the page alone while it is off', async () => {
    const page = await openPage('/set-up/group');
    expect(await page.getByRole('heading', { name: 'Offered by the group' }).count()).toBe(0);
    screens.lab.running.groupLink.save({ ...NO_GROUP_LINK, isOn: true, url: 'mqtts://broker.example' });
    await page.getByText('The group offers nothing now.').waitFor();
  });
});
