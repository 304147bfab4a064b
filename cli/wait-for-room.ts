// A start on a full disk waits for room: a program that ended would leave the lab unwatched until somebody starts it again.
// Meanwhile a page on the port of the screens shows it; it needs neither the disk nor the lab.

import { existsSync, statfsSync } from 'node:fs';
import { createServer, type RequestListener, type Server } from 'node:http';
import { createServer as createSecureServer } from 'node:https';
import { dirname, resolve } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { languageOf } from '../dashboard/server/base/language.ts';
import { headersOfEveryAnswer } from '../dashboard/server/base/security-headers.ts';
import { problem } from '../wax/result.ts';
import type { EpochMillis } from '../wax/units.ts';
import { sayTo } from '../words/load-languages.ts';
import { problemText, whatIsWrong } from '../words/problem-text.ts';
import { PLAIN_ENGLISH } from '../words/quantity.ts';
import { problemOnConsole } from './console/console-words.ts';
import type { ProcessSettings } from './settings/settings.ts';

/** What opening the database and the journal takes, and some minutes of readings. Our figure. */
const LEAST_FREE_BYTES = 2_000_000;
const LOOK_MILLIS = 1000;
const RETRY_SECONDS = 5;
const CODE = 'data-folder-full';

/** Of the disk on which the folder lies or will lie. */
function hasRoom(folder: string): boolean {
  let there = resolve(folder);
  while (!existsSync(there)) there = dirname(there);
  const { bavail, blocks, bsize } = statfsSync(there);
  // Some network disks report no free space.
  return blocks === 0 || bavail * bsize >= LEAST_FREE_BYTES;
}

const answer: RequestListener = (request, response) => {
  const language = languageOf(undefined, request.headers['accept-language']);
  const say = sayTo({ ...PLAIN_ENGLISH, language }, 'UTC');
  const isPage = request.headers.accept?.includes('text/html') === true;
  const text = problemText(say, { code: CODE });
  response.writeHead(503, {
    ...headersOfEveryAnswer(false),
    'cache-control': 'no-store',
    'retry-after': String(RETRY_SECONDS),
    'content-type': isPage ? 'text/html; charset=utf-8' : 'application/problem+json',
    // A screen that is left open shows the lab as soon as there is room.
    ...(isPage && { refresh: String(RETRY_SECONDS) }),
  });
  const title = whatIsWrong(say, { code: CODE });
  response.end(
    isPage
      ? `<!doctype html><html lang="${language}"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Waxwarden</title><h1>${text}</h1>`
      : JSON.stringify({ type: `/api/#problem-${CODE}`, title, status: 503, detail: text, code: CODE }),
  );
};

/** Resolves with how to end it; a port that is taken is refused by the start itself. */
const openPage = (server: Server, host: string, port: number): Promise<() => Promise<void>> =>
  new Promise((opened) => {
    const close = (): Promise<void> =>
      new Promise((closed) => {
        server.close(() => closed());
        server.closeAllConnections();
      });
    server.once('error', () => opened(async () => {}));
    server.listen(port, host, () => opened(close));
  });

/** On every port of the screens; over HTTPS where a certificate is there already. */
async function openPages(
  { https, host, port, httpPort, hostNames, data }: ProcessSettings,
  now: () => EpochMillis,
): Promise<() => Promise<void>> {
  if (https === null) return openPage(createServer(answer), host, port);
  const { certificateAtHand } = await import('../dashboard/server/https/https-service.ts');
  const options = { setting: https, dataFolder: data, labName: '', hostNames, addedNames: () => [], now };
  const pair = await certificateAtHand(options);
  const ends = [await openPage(createServer(answer), host, httpPort)];
  if (pair !== null) ends.push(await openPage(createSecureServer(pair, answer), host, port));
  return async () => {
    for (const end of ends) await end();
  };
}

/** Resolves at once where there is room. `print` gets the line with what it waits for. */
export async function waitForRoom(
  settings: ProcessSettings,
  now: () => EpochMillis,
  print: (line: string) => void,
): Promise<void> {
  if (hasRoom(settings.data)) return;
  print(`waxwarden: ${problemOnConsole(problem(CODE, { folder: settings.data }))}`);
  const closePages = await openPages(settings, now);
  while (!hasRoom(settings.data)) await delay(LOOK_MILLIS);
  await closePages();
}
