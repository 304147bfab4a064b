// What arrives on a connection and is no request that could be read. No route and no hook sees it, so it is answered here,
// in English and in the form and with the headers of every other refusal; then the connection ends.

import { STATUS_CODES } from 'node:http';
import type { Socket } from 'node:net';
import { PROBLEMS, type WebProblemCode } from '../../wax/problem-catalogue.ts';
import { sayTo } from '../../words/load-languages.ts';
import { PLAIN_ENGLISH } from '../../words/quantity.ts';
import { HttpProblem } from './base/problem.ts';
import { problemBody } from './problem-text.ts';

/** By the codes of Node.js; whatever else its parser refuses is no HTTP. */
const CODES: Readonly<Record<string, WebProblemCode>> = {
  ERR_HTTP_REQUEST_TIMEOUT: 'request-too-slow',
  HPE_HEADER_OVERFLOW: 'header-too-large',
};

/** @param headers those of every answer */
export function answerUnreadable(
  { code: reason = '' }: NodeJS.ErrnoException,
  socket: Socket,
  headers: Readonly<Record<string, string>>,
): void {
  const code = CODES[reason] ?? 'unreadable-request';
  const { status } = PROBLEMS[code];
  const body = JSON.stringify(problemBody(sayTo(PLAIN_ENGLISH, 'UTC'), new HttpProblem(code)));
  const lines = Object.entries({
    ...headers,
    'cache-control': 'no-store',
    'content-type': 'application/problem+json; charset=utf-8',
    'content-length': String(Buffer.byteLength(body)),
    connection: 'close',
  }).map(([name, value]) => `${name}: ${value}\r\n`);
  socket.write(`HTTP/1.1 ${status} ${STATUS_CODES[status]}\r\n${lines.join('')}\r\n${body}`);
  socket.destroySoon();
}
