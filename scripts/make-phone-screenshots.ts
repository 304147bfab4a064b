// Run by make-screenshots.mjs: the steps of docs/phone.md as they look on a phone, each from the running product: a lab
// of its own, a hot reading on its broker, a push service of this machine that hands on what it decrypts. Only
// `pushManager.subscribe` is replaced, which would call a push service outside. Needs Chromium and a broker.

import { mkdir, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { connectAsync } from 'mqtt';
import type { BrowserContext, Page } from 'playwright-core';
import { carryCookie, startBrowser } from '../tests/browser/browser.ts';
import {
  type LabProcess,
  joinAsFirst,
  startLabProcess,
  temporaryFolder,
} from '../tests/integration/lab-process.ts';
import { startMosquitto } from '../tests/integration/mosquitto.ts';
import { until } from '../tests/integration/until.ts';
import { type PushService, startPushService } from '../tests/push-service.ts';

const LAB = `
site: { id: mill-lane, name: Mill Lane Laboratory, timeZone: Europe/Lisbon }
stations:
  - { id: dip-pot, name: Dip pot, kind: dip-pot, wax: inlay-type-2 }
  - { id: drawer, name: Cool drawer, kind: cabinet, wax: inlay-type-2 }
probes:
  - { id: dip-pot-a, station: dip-pot, gateway: bench }
  - { id: drawer-a, station: drawer, gateway: bench }
`;
const IPHONE =
  'Mozilla/5.0 (iPhone; CPU iPhone OS 17_5 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/17.5 Mobile/15E148 Safari/604.1';
const PHONE = { viewport: { width: 390, height: 844 }, deviceScaleFactor: 2, locale: 'en-GB' } as const;
const folder = join(import.meta.dirname, '..', 'docs', 'screenshots');

const MARGIN_PIXELS = 16;

const picture = (page: Page, name: string, more: object = {}) =>
  page.screenshot({ path: join(folder, `${name}.png`), animations: 'disabled', ...more });

/** "Alarms on this phone" alone, as wide as the phone. */
const partPicture = async (page: Page, name: string): Promise<void> => {
  const part = page.locator('.phone-alarms');
  await page.setViewportSize({ ...PHONE.viewport, height: 2 * PHONE.viewport.height });
  await part.scrollIntoViewIfNeeded();
  const box = await part.boundingBox();
  if (box === null) throw new Error('The page has no part for this phone.');
  const clip = {
    x: 0,
    y: box.y - MARGIN_PIXELS,
    width: PHONE.viewport.width,
    height: box.height + 2 * MARGIN_PIXELS,
  };
  await picture(page, name, { clip });
};

/** Hands what the push service decrypted to the service worker, as the browser would. */
const deliverTo = async (context: BrowserContext, page: Page, origin: string) => {
  const devTools = await context.newCDPSession(page);
  let registrationId = '';
  devTools.on('ServiceWorker.workerRegistrationUpdated', ({ registrations }) => {
    registrationId = registrations[0]?.registrationId ?? registrationId;
  });
  await devTools.send('ServiceWorker.enable');
  return async (payload: object): Promise<void> => {
    await until(() => registrationId !== '');
    const data = JSON.stringify(payload);
    await devTools.send('ServiceWorker.deliverPushMessage', { origin, registrationId, data });
  };
};

const takeSteps = async (
  context: BrowserContext,
  labProcess: LabProcess,
  service: PushService,
): Promise<void> => {
  await context.grantPermissions(['notifications'], { origin: labProcess.address });
  await context.addInitScript(`if ('PushManager' in window)
    PushManager.prototype.subscribe = async () => ({ toJSON: () => (${JSON.stringify(service.subscribe())}) });`);
  const page = await context.newPage();
  const deliver = await deliverTo(context, page, labProcess.address);
  await page.goto(`${labProcess.address}/phone`);
  await page.getByRole('button', { name: 'Send alarms to this phone' }).waitFor();
  await partPicture(page, 'phone-ring');
  await page.getByRole('button', { name: 'Send alarms to this phone' }).click();
  await page.getByText(/This phone receives the alarms of/).waitFor();
  await partPicture(page, 'phone-rings');
  await page.getByRole('button', { name: 'Send a test' }).click();
  const test = await until(() => service.received.find(({ payload }) => payload.kind === 'test'));
  await deliver(test.payload);
  await page.getByText(/Notifications work\.$/).waitFor();
  await partPicture(page, 'phone-tested');
};

const takeAlarm = async (context: BrowserContext, labProcess: LabProcess, heat: () => Promise<unknown>) => {
  const page = await context.newPage();
  await page.goto(`${labProcess.address}/phone`);
  await heat();
  await page.getByRole('button', { name: 'Acknowledge' }).waitFor();
  await page.locator('.station-rows', { hasText: '96.4' }).waitFor();
  await picture(page, 'phone-alarm');
};

await mkdir(folder, { recursive: true });
const browser = await startBrowser({ isWhole: true });
const service = await startPushService();
const broker = await startMosquitto();
const data = await temporaryFolder();
await writeFile(join(data.path, 'lab.yaml'), LAB);
await writeFile(join(data.path, 'push-service.pem'), service.certificate);
const labProcess = await startLabProcess({
  data: join(data.path, 'data'),
  args: [
    ...['--port', '0', '--broker', broker.url, '--lab', join(data.path, 'lab.yaml')],
    ...['--push-hosts', service.host],
  ],
  env: { NODE_EXTRA_CA_CERTS: join(data.path, 'push-service.pem') },
});
const gateway = await connectAsync(broker.url, { clientId: 'bench' });
const publish = (probe: string, celsius: number) =>
  gateway.publishAsync(`wax/mill-lane/bench/${probe}/celsius`, String(celsius), { qos: 1 });
try {
  await publish('dip-pot-a', 66.2);
  await publish('drawer-a', 19.4);
  const cookie = await joinAsFirst(labProcess);
  const opened = async (more: object = {}): Promise<BrowserContext> => {
    const context = await browser.newContext({ ...PHONE, ...more });
    await carryCookie(context, cookie, labProcess.address);
    return context;
  };
  const able = await opened();
  await takeSteps(able, labProcess, service);
  const unable = await (await opened({ userAgent: IPHONE })).newPage();
  await unable.goto(`${labProcess.address}/phone`);
  await unable.locator('.phone-alarms').waitFor();
  await partPicture(unable, 'phone-cannot-ring');
  // One reading alone raises no alarm.
  const now = Date.now() / 1000;
  const pack = [now - 1, now].map((t) => ({ n: 'dip-pot-a', u: 'Cel', v: 96.4, t }));
  await takeAlarm(able, labProcess, () =>
    gateway.publishAsync('wax/mill-lane/bench/senml', JSON.stringify(pack), { qos: 1 }),
  );
  await labProcess.stop();
  const cold = await able.newPage();
  await cold.goto(`${labProcess.address}/phone`);
  await cold.locator('.line-note').waitFor();
  await picture(cold, 'phone-no-network');
} finally {
  await browser.close();
  await gateway.endAsync(true);
  await labProcess.stop();
  await broker.dispose();
  await service.close();
  await rm(data.path, { recursive: true, force: true });
}
