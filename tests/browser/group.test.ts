// The group's screen in a browser, over a real PostgreSQL, with sign-in by a real OpenID Connect provider that stands on
// another host name, so that cookies behave as they do between two sites.

import { createServer, type Server } from 'node:http';
import type { FastifyInstance } from 'fastify';
import { Provider } from 'oidc-provider';
import pg from 'pg';
import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { type Changes, followChanges } from '../../group/changes.ts';
import { identityProvider, PROVIDER_RETURN } from '../../group/identity-provider.ts';
import { addPerson } from '../../group/people.ts';
import { buildGroupServer } from '../../group/server.ts';
import { migrate } from '../../group/tables.ts';
import { writeMessages } from '../../group/write.ts';
import { freePort } from '../free-port.ts';
import { alarmOf, standingOf } from '../integration/group-messages.ts';
import { type Postgres, startPostgres } from '../integration/postgres.ts';
import { closeContexts, sharedBrowser } from './browser.ts';

const CLIENT = { client_id: 'group', client_secret: 'a-secret-of-the-test-and-nothing-else' };

/** Whoever signs in has the address that they gave as their name; it is verified unless it is marked as not. */
const startProvider = async (returnUrl: string): Promise<{ issuer: string; server: Server }> => {
  const server = createServer();
  const port = await freePort();
  const issuer = `http://localhost:${port}`;
  const provider = new Provider(issuer, {
    clients: [{ ...CLIENT, redirect_uris: [returnUrl] }],
    claims: { openid: ['sub'], email: ['email', 'email_verified'] },
    findAccount: (_context, id) => ({
      accountId: id,
      claims: () => ({ sub: id, email: id, email_verified: !id.startsWith('unverified') }),
    }),
    cookies: { keys: ['of the test'] },
  });
  server.on('request', provider.callback());
  await new Promise<void>((done) => server.listen(port, '127.0.0.1', done));
  return { issuer, server };
};

const browser = await sharedBrowser();

describe("the group's screen in a browser", () => {
  let postgres: Postgres;
  let client: pg.Client;
  let pool: pg.Pool;
  let changes: Changes;
  let app: FastifyInstance;
  let provider: Server;
  let address = '';
  beforeAll(async () => {
    postgres = await startPostgres();
    client = new pg.Client({ connectionString: postgres.url });
    await client.connect();
    await migrate(client);
    pool = new pg.Pool({ connectionString: postgres.url });
    changes = followChanges(postgres.url);
    const port = await freePort();
    address = `http://127.0.0.1:${port}`;
    const started = await startProvider(`${address}${PROVIDER_RETURN}`);
    provider = started.server;
    app = buildGroupServer({
      pool,
      changes,
      now: Date.now,
      provider: identityProvider({
        issuer: started.issuer,
        publicUrl: address,
        clientId: CLIENT.client_id,
        clientSecret: CLIENT.client_secret,
      }),
    });
    await app.listen({ host: '127.0.0.1', port });
    await addPerson(client, 'Ada Lind', { email: 'Ada.Lind@labs.example' });
    await addPerson(client, 'Noor Berg', { email: 'noor@north.example', site: 'north' });
    await addPerson(client, 'Uma Veld', { email: 'unverified@labs.example' });
    for (const site of ['north', 'south'])
      await writeMessages(client, [{ kind: 'standing', body: standingOf(site) }]);
  });
  afterEach(() => closeContexts(browser));
  afterAll(async () => {
    await closeContexts(browser);
    await app.close();
    provider.closeAllConnections();
    provider.close();
    await changes.stop();
    await pool.end();
    await client.end();
    await postgres.dispose();
  });

  const openPage = async (locale = 'en-GB', width = 1280): Promise<Page> => {
    const context = await browser.newContext({ locale, viewport: { width, height: 800 } });
    const page = await context.newPage();
    await page.goto(address);
    return page;
  };
  const signInAs = async (page: Page, email: string, words = /organisation/): Promise<void> => {
    await page.getByRole('link', { name: words }).click();
    await page.locator('input[name=login]').fill(email);
    await page.locator('input[name=password]').fill('any');
    await page.locator('button[type=submit]').click();
    await page.locator('button[type=submit]').click();
  };

  it('signs a person in by the account of the provider and shows a new alarm by itself, worst lab first', async () => {
    const page = await openPage();
    await signInAs(page, 'ada.lind@labs.example');
    await page.getByRole('heading', { name: 'Labs of the group' }).waitFor();
    await writeMessages(client, [
      { kind: 'standing', body: standingOf('south', { offset: 2, alarms: [alarmOf('south', 1).alarm] }) },
    ]);
    await page.getByRole('heading', { name: /Needs hands/ }).waitFor();
    expect(await page.locator('.lab h3').allTextContents()).toEqual(['Lab south', 'Lab north']);
    await page.getByRole('link', { name: 'Lab south' }).click();
    await page.getByRole('heading', { name: 'Lab south' }).waitFor();
    await page.getByRole('button', { name: 'Sign out' }).click();
    await page.getByLabel('Your key').waitFor();
    await page.goto(address);
    await page.getByLabel('Your key').waitFor();
  });

  it('signs a person in by a key that was typed, and refuses a wrong one with words', async () => {
    const key = (await addPerson(client, 'Ilse Brandt')) ?? '';
    const page = await openPage();
    const enter = async (text: string): Promise<void> => {
      await page.getByLabel('Your key').fill(text);
      await page.getByRole('button', { name: 'Sign in' }).click();
    };
    await enter('guessed');
    await page.getByRole('alert').getByText('This key is not known.').waitFor();
    await enter(key);
    await page.getByRole('heading', { name: 'Labs of the group' }).waitFor();
  });

  it('shows a person of one lab that lab and no other, in German on a phone without sideways scrolling', async () => {
    const page = await openPage('de-DE', 390);
    await signInAs(page, 'noor@north.example', /Organisation/);
    await page.getByRole('heading', { name: 'Labore des Verbunds' }).waitFor();
    expect(await page.locator('.lab h3').allTextContents()).toEqual(['Lab north']);
    expect((await page.goto(`${address}/lab/south`))?.status()).toBe(404);
    await page.goto(`${address}/compare`);
    expect(await page.locator('tbody th').allTextContents()).toEqual(['Lab north']);
    const overflow = 'document.documentElement.scrollWidth - document.documentElement.clientWidth';
    expect(await page.evaluate<number>(overflow)).toBe(0);
  });

  it.each([
    ['with an address that nobody was added with', 'stranger@labs.example'],
    ['with an address that the provider has not verified', 'unverified@labs.example'],
  ])('signs nobody in %s', async (_what, email) => {
    const page = await openPage();
    await signInAs(page, email);
    await page.getByRole('alert').getByText('Nobody was signed in').waitFor();
    await page.goto(address);
    await page.getByLabel('Your key').waitFor();
  });

  it('signs nobody in by an answer of the provider that this browser did not request', async () => {
    const page = await openPage();
    const answer = await page.goto(`${address}${PROVIDER_RETURN}?code=stolen&state=guessed`);
    expect(answer?.status()).toBe(401);
    expect((await page.context().cookies()).map(({ name }) => name)).not.toContain('group_session');
  });
});
