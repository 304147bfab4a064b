// The built screens in a real Chromium: their speed by Lighthouse's simulated mid-range phone, the frames of a wall of
// forty stations that all change each second, and what a wall holds before and after a week of readings.

import type { Browser } from 'playwright-core';
import { alarmView } from '../../dashboard/server/views/alarm-view.ts';
import { auditScreen, type ScreenAudit } from '../browser/audit-screen.ts';
import { startBrowser } from '../browser/browser.ts';
import { fillLab, fillRecords } from '../browser/built-screens.ts';
import { fastForward, readHeld } from '../browser/fast-forward.ts';
import { freePort } from '../free-port.ts';
import { isForManager, PLACES } from '../browser/places.ts';
import { type ServerForTests, serverForTests } from '../server-for-tests.ts';

const WEB_ROOT = 'dist/web';
const STATIONS = 40;
const FRAME_SECONDS = 20;
/** Lighthouse recommends several, because each is a little different. */
const AUDITS = 3;
const SCREEN_FRAMES = 60;
const WEEK_DAYS = 7;
const WALL = { width: 1920, height: 1080 };

interface Line {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  readonly peer: string;
  readonly peer_value: number;
  readonly n: number;
  readonly note: string;
}
const tell = (line: Line): void =>
  console.log(JSON.stringify({ ...line, ratio: Math.round((1000 * line.value) / line.peer_value) / 1000 }));

const speeds = async (address: string, debugPort: number, cookie: string): Promise<void> => {
  for (const path of PLACES) {
    const asked = { debugPort, cookie: isForManager(path) ? cookie : '' };
    const audits: ScreenAudit[] = [];
    while (audits.length < AUDITS) audits.push(await auditScreen(address + path, asked, ['performance']));
    audits.sort((first, second) => first.scores.performance - second.scores.performance);
    const middle = audits[(AUDITS - 1) / 2];
    if (middle === undefined) throw new Error('nothing was audited');
    const { scores, below } = middle;
    tell({
      name: `screens performance ${path}`,
      value: scores.performance,
      unit: 'points of 100',
      peer: 'aim',
      peer_value: 95,
      n: AUDITS,
      note: `Lighthouse, median of ${audits.map((audit) => audit.scores.performance).join(', ')}; simulated slow 4G and a processor 4 times slower; ${below.performance.join('; ')}`,
    });
  }
};

/** Runs in the page: instants of its frames over some seconds. */
const FRAMES = `new Promise((resolve) => {
  const seen = [];
  const look = (at) => {
    seen.push(at);
    if (at - seen[0] < ${FRAME_SECONDS * 1000}) requestAnimationFrame(look);
    else resolve(seen);
  };
  requestAnimationFrame(look);
})`;

const frames = async (browser: Browser, test: ServerForTests, address: string): Promise<void> => {
  const page = await browser.newPage({ viewport: WALL });
  await page.goto(`${address}/wall`);
  await page
    .locator('.wall-station')
    .nth(STATIONS - 1)
    .waitFor();
  let second = 0;
  const changing = setInterval(() => {
    second += 1;
    test.lab.pass(1);
    for (const [index, { id }] of test.lab.running.lab().stations.entries())
      test.lab.stand({ station: id, celsius: (70 + 8 * Math.sin(second / 5 + index)) as never });
  }, 1000);
  const seen = (await page.evaluate(FRAMES)) as readonly number[];
  clearInterval(changing);
  const gaps = seen.slice(1).map((at, index) => at - (seen[index] ?? at));
  const took = ((seen.at(-1) ?? 0) - (seen[0] ?? 0)) / 1000;
  tell({
    name: 'screens wall frames',
    value: Math.round((10 * gaps.length) / took) / 10,
    unit: 'frames/s',
    peer: 'frames of the display',
    peer_value: SCREEN_FRAMES,
    n: gaps.length,
    note: `${STATIONS} stations, each changed each second; longest time between two frames ${Math.max(...gaps).toFixed(0)} ms; software drawing, no graphics processor`,
  });
  await page.close();
};

const weekOfMemory = async (browser: Browser, { lab }: ServerForTests, address: string): Promise<void> => {
  const words = () => ({ message: 'm', meaning: 'm', action: 'a', caution: 'c' });
  const reader = { language: 'en', temperatureUnit: 'celsius', hourCycle: 'h23' } as const;
  const alarm = alarmView(lab.running, words, lab.raise('over-ceiling', 'pot-1'), reader);
  const line = await fastForward({
    address,
    stations: lab.running.lab().stations.map(({ id }) => id),
    from: lab.running.now(),
    alarm,
  });
  const page = await browser.newPage({ viewport: WALL });
  const session = await page.context().newCDPSession(page);
  await page.goto(`${line.address}/wall`);
  await line.pass(page, 1);
  const first = await readHeld(session);
  await line.pass(page, WEEK_DAYS - 1);
  const last = await readHeld(session);
  line.close();
  const megabytes = (bytes: number) => Math.round(bytes / 1e4) / 100;
  tell({
    name: 'screens wall memory after a week',
    value: megabytes(last.heapBytes),
    unit: 'MB',
    peer: 'the same wall after its first day',
    peer_value: megabytes(first.heapBytes),
    n: STATIONS * WEEK_DAYS * 1440,
    note: `heap after collection; ${STATIONS} stations, one reading a minute each and an alarm an hour, as fast as the page takes them; nodes ${first.nodes} then ${last.nodes}, listeners ${first.listeners} then ${last.listeners}`,
  });
  await page.close();
};

export const run = async (): Promise<void> => {
  const alarmWords = () => ({
    message: 'What happened.',
    meaning: 'The wax loses its lighter parts.',
    action: 'Turn it down.',
    caution: 'Hot wax burns.',
  });
  const debugPort = await freePort();
  const browser = await startBrowser({ args: [`--remote-debugging-port=${debugPort}`] });
  const test = await serverForTests({ demo: true, webRoot: WEB_ROOT, alarmWords });
  const address = await test.server.listen({ host: '127.0.0.1', port: 0 });
  try {
    await fillLab(test, 8);
    await fillRecords(test);
    await speeds(address, debugPort, (await test.manager()).cookie);
    await fillLab(test, STATIONS);
    await frames(browser, test, address);
    await weekOfMemory(browser, test, address);
  } finally {
    await browser.close();
    await test.close();
  }
};
