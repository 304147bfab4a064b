// A wall whose live line runs faster than time: in front of the real server stands one that answers `/api/live`
// itself and sends days of readings and alarms as quickly as the page takes them. Everything else is passed on.

import { EventEmitter, once } from 'node:events';
import { createServer, request, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { setTimeout as delay } from 'node:timers/promises';
import type { CDPSession, Page } from 'playwright-core';
import type { AlarmView } from '../../dashboard/api/schemas.ts';

const MINUTE_MILLIS = 60_000;
const MINUTES_A_DAY = 1440;
/** Each hour an alarm comes and goes. */
const ALARM_MINUTES = 60;

export interface FastForward {
  readonly address: string;
  /** Sends that many days of one reading a station and minute; resolves when the page shows the last of them. */
  readonly pass: (page: Page, days: number) => Promise<void>;
  readonly close: () => void;
}

interface Passed {
  readonly address: string;
  readonly stations: readonly string[];
  readonly from: number;
  readonly alarm: AlarmView;
}

/** Ends the waiting for what did not come first. */
const stopper = () => {
  const controller = new AbortController();
  return { signal: controller.signal, abort: () => controller.abort() };
};

export const fastForward = async ({ address, stations, from, alarm }: Passed): Promise<FastForward> => {
  let line: ServerResponse | null = null;
  const opened = new EventEmitter();
  let minute = 0;
  /** The instant of the newest readings: the clock of the page stands still there, so that they stay live. */
  let newest = from;
  let sequence = 0;
  let answering = 0;
  const front = createServer((incoming, response) => {
    if (incoming.url?.startsWith('/api/live')) {
      line = response.writeHead(200, { 'content-type': 'text/event-stream' });
      response.on('close', () => {
        if (line === response) line = null;
      });
      opened.emit('line');
      return;
    }
    const passed = request(
      address + (incoming.url ?? '/'),
      { method: incoming.method, headers: { ...incoming.headers, host: new URL(address).host } },
      (answer) => answer.pipe(response.writeHead(answer.statusCode ?? 502, answer.headers)),
    );
    answering += 1;
    response.on('close', () => {
      answering -= 1;
    });
    incoming.pipe(passed);
  }).listen(0, '127.0.0.1');
  await once(front, 'listening');

  const send = async (event: string, data: object): Promise<void> => {
    if (line === null) await once(opened, 'line');
    const now = line;
    if (now === null) return;
    sequence += 1;
    const more = now.write(`id: week-${sequence}\nevent: ${event}\ndata: ${JSON.stringify(data)}\n\n`);
    // A page that was busy for long opens its line anew, and the old one never drains.
    if (more) return;
    const { signal, abort } = stopper();
    await Promise.race([once(now, 'drain', { signal }), once(now, 'close', { signal })]);
    abort();
  };
  const beat = () => send('beat', { now: new Date(newest).toISOString() });
  const passMinute = async (): Promise<void> => {
    newest = from + minute * MINUTE_MILLIS;
    const instant = new Date(newest).toISOString();
    await beat();
    for (const [index, id] of stations.entries())
      await send('station', {
        id,
        condition: 'in-window',
        celsius: 70 + 8 * Math.sin(minute / 9 + index),
        at: instant,
        celsiusPerHour: 3,
        minutesToCeiling: null,
        doseShare: (minute % 1000) / 1000,
        doseEquivalentHours: 12,
        swingCelsius: null,
        alarms: [],
      });
    if (minute % ALARM_MINUTES === 0) {
      const raised = { ...alarm, id: `alarm-${minute}`, raisedAt: instant };
      await send('alarm', { ...raised, stateCode: 'B' });
      await send('alarm', { ...raised, stateCode: 'A', active: false, acknowledged: true });
    }
    minute += 1;
  };

  /** The page loads the lab once more when its line is up; what came before that would be overwritten by it. */
  const settled = async (): Promise<void> => {
    let quiet = 0;
    while (quiet < 5) {
      await beat();
      await delay(100);
      quiet = answering === 0 ? quiet + 1 : 0;
    }
  };

  // The page calls a line dead after two seconds without a word, also while nothing is fast-forwarded.
  const idle = setInterval(() => {
    if (line !== null) void beat();
  }, 1000);

  return {
    address: `http://127.0.0.1:${(front.address() as AddressInfo).port}`,
    pass: async (page, days) => {
      await page.locator('.wall-station').first().waitFor();
      await settled();
      const until = minute + days * MINUTES_A_DAY;
      while (minute < until) await passMinute();
      const mark = `Day ${until / MINUTES_A_DAY}`;
      const last = {
        ...alarm,
        id: 'mark',
        station: null,
        stationName: mark,
        stateCode: 'B',
        priority: 'urgent',
        acknowledged: false,
      };
      await send('alarm', last);
      await page.locator('main').getByText(mark).waitFor({ timeout: 600_000 });
      await send('alarm', { ...last, stateCode: 'A', active: false });
      await page.locator('main').getByText(mark).waitFor({ state: 'detached' });
    },
    close: () => {
      clearInterval(idle);
      line?.end();
      front.close();
      front.closeAllConnections();
    },
  };
};

export interface Held {
  readonly heapBytes: number;
  readonly nodes: number;
  readonly listeners: number;
}

const collectGarbage = async (session: CDPSession): Promise<void> => {
  // Nodes that were taken out of the page are let go by the browser's own caches only when memory is short.
  await session.send('Memory.simulatePressureNotification', { level: 'critical' });
  for (let round = 0; round < 3; round += 1) await session.send('HeapProfiler.collectGarbage');
};

/** What the browser makes of the program for itself: compiled code grows for days, the later the busier the machine is. */
const NOT_THE_PAGES_OWN = new Set(['code', 'native', 'synthetic', 'hidden']);

interface HeapSnapshot {
  readonly snapshot: { readonly meta: { node_fields: string[]; node_types: [string[], ...unknown[]] } };
  readonly nodes: readonly number[];
}

/** Bytes of the objects, arrays, texts and closures that the page's program holds. */
const ownHeapBytes = async (session: CDPSession): Promise<number> => {
  const chunks: string[] = [];
  const take = ({ chunk }: { readonly chunk: string }): number => chunks.push(chunk);
  session.on('HeapProfiler.addHeapSnapshotChunk', take);
  await session.send('HeapProfiler.takeHeapSnapshot', { reportProgress: false });
  session.off('HeapProfiler.addHeapSnapshotChunk', take);
  const { snapshot, nodes } = JSON.parse(chunks.join('')) as HeapSnapshot;
  const { node_fields: fields, node_types: types } = snapshot.meta;
  const [type, size] = [fields.indexOf('type'), fields.indexOf('self_size')];
  let bytes = 0;
  for (let node = 0; node < nodes.length; node += fields.length)
    if (!NOT_THE_PAGES_OWN.has(types[0][nodes[node + type] ?? 0] ?? '')) bytes += nodes[node + size] ?? 0;
  return bytes;
};

const countDom = async (session: CDPSession): Promise<Omit<Held, 'heapBytes'>> => {
  await collectGarbage(session);
  const { nodes, jsEventListeners } = await session.send('Memory.getDOMCounters');
  return { nodes, listeners: jsEventListeners };
};

/** What the page still holds after its garbage is collected, once it draws nothing new between two looks. */
export const readHeld = async (session: CDPSession): Promise<Held> => {
  let before = await countDom(session);
  for (;;) {
    // Longer than a beat, by which the page draws its ages anew.
    await delay(1200);
    const now = await countDom(session);
    if (now.nodes === before.nodes && now.listeners === before.listeners)
      return { ...now, heapBytes: await ownHeapBytes(session) };
    before = now;
  }
};
