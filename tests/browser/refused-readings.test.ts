// Readings that InfluxDB refused, on the screen that shows them: the manager puts right what the server refuses and has
// them sent again.

import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openInfluxStore } from '../../collector/store/influx-store.ts';
import { celsius, epochMillis, MILLIS_PER_DAY } from '../../wax/units.ts';
import { type Influx, startInflux } from '../integration/influx.ts';
import { until } from '../integration/until.ts';
import { closeContexts, sharedBrowser } from './browser.ts';
import { type BuiltScreens, openScreens } from './built-screens.ts';
import { openScreen } from './open-screen.ts';

const DATABASE = 'lab';
/** As often as a test need not wait. */
const RETRY = { firstMillis: 5, longestMillis: 40 };

let influx: Influx;
let screens: BuiltScreens;
beforeAll(async () => {
  influx = await startInflux();
  await influx.ask(`CREATE DATABASE "${DATABASE}" WITH DURATION 7d NAME "week"`);
  screens = await openScreens({
    demo: false,
    openStore: (database) =>
      openInfluxStore(database, { url: `${influx.url}/${DATABASE}`, site: 'test-lab' }, RETRY),
  });
});
afterAll(async () => {
  await closeContexts(await sharedBrowser());
  await screens.close();
  await influx.dispose();
});

describe('a reading that the store refused', () => {
  it('is listed on its screen with the reason, and is in the store once it was sent again', async () => {
    const { store } = screens.lab.running;
    const at = epochMillis(Date.now() - 400 * MILLIS_PER_DAY);
    const refused = { probe: 'pot-1-a', at, celsius: celsius(61.5), quality: 'good' as const };
    await store.apply({ readings: [refused], ruleState: {}, alongside: [], offset: store.offset() + 1 });
    await until(() => store.setAside?.readings(1).length === 1);

    const { cookie } = await screens.manager();
    const page = await openScreen(await sharedBrowser(), screens.address, '/set-up/stored-readings', {
      cookie,
    });
    const row = page.getByRole('row').filter({ hasText: 'pot-1-a' });
    await row.getByText(/61\.5\s°C/).waitFor();
    expect(await row.textContent()).toContain('400');

    await influx.ask(`ALTER RETENTION POLICY "week" ON "${DATABASE}" DURATION INF`);
    await page.getByRole('button', { name: 'Send all of them again' }).click();
    await page.getByText('1 reading is being sent again.').waitFor();
    await row.waitFor({ state: 'detached' });
    const span = { probe: 'pot-1-a', from: at, to: epochMillis(at + 1), limit: 10 };
    await until(async () => (await store.raw(span)).length === 1);
    expect(store.setAside?.readings(10)).toEqual([]);
  });
});
