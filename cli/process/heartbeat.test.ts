import { once } from 'node:events';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { failing, type PartHealth, working } from '../../collector/part-health.ts';
import type { Entry } from '../../lab/entry.ts';
import { problem } from '../../wax/result.ts';
import { epochMillis } from '../../wax/units.ts';
import { heartbeat } from './heartbeat.ts';
import { openLog } from '../console/log.ts';

let receiver: Server;
let url: string;
let posts: string[];
let status: number;
let published: string[];
let journal: Entry[];
let health: Readonly<Record<string, PartHealth>>;

beforeEach(async () => {
  [posts, published, journal, status] = [[], [], [], 204];
  health = { store: working('embedded') };
  receiver = createServer((request, response) => {
    let body = '';
    request.on('data', (chunk) => {
      body += chunk;
    });
    request.on('end', () => {
      posts.push(body);
      response.writeHead(status).end();
    });
  });
  receiver.listen(0, '127.0.0.1');
  await once(receiver, 'listening');
  url = `http://127.0.0.1:${(receiver.address() as AddressInfo).port}/beat`;
});
afterEach(() => {
  receiver.closeAllConnections();
  receiver.close();
});

const beatTo = (address: string | null) => {
  const now = epochMillis(Date.parse('2031-03-04T22:00:00Z'));
  return heartbeat({
    running: {
      health: async () => health,
      lab: () => ({ site: { id: 'mill-lane' } }) as never,
      now: () => now,
      openAlarms: () => [],
    },
    intake: {
      publish: (topic, payload) => published.push(`${topic} ${payload}`),
      append: async (entries) => journal.push(...entries),
    },
    log: openLog({ level: 'silent', format: 'text', now: () => now, print: () => {} }),
    url: address,
  });
};
const sign = '{"site":"mill-lane","at":"2031-03-04T22:00:00.000Z","open_alarms":0}';

describe('the sign of life', () => {
  it('ends the alarm of an earlier process when it is delivered, and when its address was taken away', async () => {
    await beatTo(url)();
    await beatTo(null)();
    expect(journal).toMatchObject([
      { name: 'heartbeat', ok: true },
      { name: 'heartbeat', ok: true },
    ]);
  });

  it('goes out over MQTT and to the address that is set', async () => {
    await beatTo(url)();
    expect(published).toEqual([`wax/mill-lane/collector/heartbeat ${sign}`]);
    expect(posts).toEqual([sign]);
  });

  it('stays away while a part does not work', async () => {
    health = { store: failing(problem('store-away', { server: 'http://store', reason: 'no answer' })) };
    await beatTo(url)();
    expect([published, posts]).toEqual([[], []]);
  });

  it('is reported as a failing route after three tries, once, and as working again', async () => {
    const beat = beatTo(url);
    status = 500;
    for (let tries = 0; tries < 5; tries += 1) await beat();
    expect(journal).toMatchObject([{ kind: 'self-check', part: 'channel', name: 'heartbeat', ok: false }]);
    status = 200;
    await beat();
    await beat();
    expect(journal.slice(1)).toMatchObject([{ name: 'heartbeat', ok: true }]);
  });
});
