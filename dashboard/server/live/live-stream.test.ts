import { type IncomingMessage, request } from 'node:http';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type ServerForTests, serverForTests } from '../../../tests/server-for-tests.ts';

interface ReceivedEvent {
  readonly id: string;
  readonly event: string;
  readonly data: Record<string, unknown>;
}

/** A real HTTP/1.1 connection to the live stream, read event by event. */
const listen = (port: number, headers: Record<string, string> = {}, path = '/api/live') => {
  const received: ReceivedEvent[] = [];
  let rest = '';
  let head: Record<string, unknown> = {};
  let isClosed = false;
  let answer: IncomingMessage | null = null;
  const waiting: (() => void)[] = [];
  const wake = (): void => {
    for (const resolve of waiting.splice(0)) resolve();
  };
  const closed = (): void => {
    isClosed = true;
    wake();
  };
  const take = (part: string): void => {
    const match = /^id: (.*)\nevent: (.*)\ndata: (.*)$/.exec(part);
    if (match !== null)
      received.push({ id: match[1] ?? '', event: match[2] ?? '', data: JSON.parse(match[3] ?? '') });
  };
  const asking = request({ host: '127.0.0.1', port, path, headers, agent: false }, (response) => {
    answer = response;
    head = response.headers;
    response.on('data', (chunk) => {
      const parts = (rest + chunk.toString()).split('\n\n');
      rest = parts.pop() ?? '';
      for (const part of parts) take(part);
      wake();
    });
    response.on('close', closed);
    response.on('error', closed);
  });
  asking.on('error', closed);
  asking.end();
  const until = async (is: () => boolean): Promise<void> => {
    while (!is()) await new Promise<void>((resolve) => waiting.push(resolve));
  };
  return {
    leave: () => asking.destroy(),
    pause: () => answer?.pause(),
    resume: () => answer?.resume(),
    head: () => head,
    received: () => received,
    all: (event: string) => received.filter((message) => message.event === event),
    event: (event: string) => until(() => received.some((message) => message.event === event)),
    events: (event: string, count: number) =>
      until(() => received.filter((message) => message.event === event).length >= count),
    closed: () => until(() => isClosed),
  };
};

describe('the live stream', () => {
  let test: ServerForTests;
  let port: number;
  beforeEach(async () => {
    test = await serverForTests({ demo: true, mostLiveScreens: 3 });
    port = Number(new URL(await test.server.listen({ host: '127.0.0.1', port: 0 })).port);
  });
  afterEach(() => test.close());

  it('sends alarms in the language that was requested, with an id and the security headers', async () => {
    const screen = listen(port, {}, '/api/live?lang=de');
    await screen.event('beat');
    const alarm = test.lab.raise('over-ceiling', 'pot-1');
    await screen.event('alarm');
    expect(screen.all('alarm')[0]).toMatchObject({ data: { id: alarm.id, message: 'over-ceiling' } });
    expect(screen.all('alarm')[0]?.id).toMatch(/^[0-9a-f]{12}-1$/);
    expect(screen.head()).toMatchObject({
      'content-type': 'text/event-stream; charset=utf-8',
      'cache-control': 'no-store',
      'x-content-type-options': 'nosniff',
    });
    screen.leave();
  });

  it('gathers what a station does within a quarter of a second into one event with the last value', async () => {
    const screen = listen(port);
    await screen.event('beat');
    for (let value = 60; value < 80; value += 1)
      test.lab.stand({ station: 'pot-1', celsius: value as never });
    await screen.event('station');
    await screen.events('beat', 2);
    expect(screen.all('station').map((message) => message.data.celsius)).toEqual([79]);
    screen.leave();
  });

  it('gives a screen that was away what it missed, and nothing twice', async () => {
    const first = listen(port);
    await first.event('beat');
    const raised = test.lab.raise('over-ceiling', 'pot-1');
    await first.event('alarm');
    const seen = first.all('alarm')[0]?.id ?? '';
    first.leave();
    test.lab.pass(5);
    const two = test.lab.raise('left-on', 'pot-1');
    const three = test.lab.raise('storage-warm', 'shelf-1');
    const back = listen(port, { 'last-event-id': seen });
    await back.event('beat');
    expect(back.all('alarm').map((event) => event.data.id)).toEqual([two.id, three.id]);
    expect(back.all('alarm').map((event) => event.data.id)).not.toContain(raised.id);
    expect(back.all('beat')[0]?.id).toBe(back.all('alarm')[1]?.id);
    back.leave();
  });

  it.each(['abcdefabcdef-1', 'nonsense', '-', `${'9'.repeat(80)}`])(
    'sends a screen with the unknown id "%s" to load anew',
    async (id) => {
      const screen = listen(port, { 'last-event-id': id });
      await screen.event('restart');
      expect(screen.received()[0]?.event).toBe('restart');
      screen.leave();
    },
  );

  it('beats each second with the id of the newest event', async () => {
    const screen = listen(port);
    await screen.events('beat', 3);
    expect(new Set(screen.all('beat').map((message) => message.id)).size).toBe(1);
    screen.leave();
  });

  it('drops a screen that does not read, and serves the others', async () => {
    const slow = listen(port);
    await slow.event('beat');
    slow.pause();
    const brisk = listen(port);
    await brisk.event('beat');
    const text = 'x'.repeat(100_000);
    const { id } = test.lab.raise('over-ceiling', 'pot-1');
    const isDropped = new Promise<void>((resolve) => {
      const look = setInterval(() => {
        test.lab.step(id, { type: 'updates', at: test.lab.running.now(), evidence: { text } });
        test.server.inject('/metrics').then(({ body }) => {
          if (!body.includes('waxwarden_live_screens 1\n')) return;
          clearInterval(look);
          resolve();
        });
      }, 10);
    });
    await isDropped;
    slow.resume();
    await slow.closed();
    test.lab.stand({ station: 'pot-1', celsius: 66 as never });
    await brisk.event('station');
    brisk.leave();
  });

  it('answers no HEAD, which would hold a place and receive nothing', async () => {
    expect((await test.server.inject({ method: 'HEAD', url: '/api/live' })).statusCode).toBe(404);
  });

  it('takes no more screens than its limit', async () => {
    const screens = [listen(port), listen(port), listen(port)];
    for (const screen of screens) await screen.event('beat');
    const answer = await test.server.inject('/api/live');
    expect(answer.json()).toMatchObject({ status: 503, code: 'too-many-screens' });
    for (const screen of screens) screen.leave();
  });

  it('ends the stream of a session that was ended', async () => {
    await test.close();
    test = await serverForTests();
    port = Number(new URL(await test.server.listen({ host: '127.0.0.1', port: 0 })).port);
    const manager = await test.manager();
    const screen = listen(port, { cookie: manager.cookie });
    await screen.event('beat');
    await manager.send('DELETE', '/api/session');
    await screen.closed();
    expect(screen.received().length).toBeGreaterThan(0);
  });

  it('lets the server close while screens are connected', async () => {
    const screen = listen(port);
    await screen.event('beat');
    await test.server.close();
    await screen.closed();
    expect(test.server.server.listening).toBe(false);
  });
});
