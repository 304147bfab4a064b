// A push service for tests: real HTTPS with a certificate of its own making, subscriptions with real keys. It checks
// the sender's signature, decrypts what comes, and answers as the test sets it.

import { createECDH, randomBytes } from 'node:crypto';
import type { IncomingHttpHeaders } from 'node:http';
import { Agent, createServer } from 'node:https';
import type { AddressInfo } from 'node:net';
import type { PushPayload } from '../alerts/notices/channels/push-payload.ts';
import { type BrowserKeys, decryptPush, type VapidClaims, verifyVapid } from './push-decryption.ts';
import { selfMadeCertificate } from './self-made-certificate.ts';

export interface Received {
  readonly endpoint: string;
  readonly headers: Readonly<Record<string, string | undefined>>;
  readonly vapid: VapidClaims & { readonly key: string };
  readonly payload: PushPayload;
  readonly bytes: number;
}

export interface PushService {
  readonly origin: string;
  readonly host: string;
  /** Trusts the certificate of this service alone. */
  readonly agent: Agent;
  readonly certificate: string;
  /** Taken with 201, oldest first. */
  readonly received: readonly Received[];
  /** Answers of the next requests; after them 201. */
  readonly answerNext: (status: number, headers?: Readonly<Record<string, string>>) => void;
  readonly tries: () => number;
  readonly subscribe: () => {
    readonly endpoint: string;
    readonly keys: { readonly p256dh: string; readonly auth: string };
  };
  readonly close: () => Promise<void>;
}

/**
 * With `onHead`, that is called with each request as soon as its head is read; the push is then neither opened nor kept, so
 * that a measurement is not held up, and every push comes over a connection of its own.
 */
export async function startPushService(
  onHead?: (path: string, headers: IncomingHttpHeaders) => void,
): Promise<PushService> {
  const { key, certificate } = await selfMadeCertificate();
  const phones = new Map<string, BrowserKeys>();
  const received: Received[] = [];
  const answers: { status: number; headers: Readonly<Record<string, string>> }[] = [];
  let tries = 0;
  const server = createServer({ key, cert: certificate }, (request, response) => {
    if (onHead !== undefined) {
      onHead(request.url ?? '', request.headers);
      request.resume().on('end', () => response.writeHead(201, { connection: 'close' }).end());
      return;
    }
    const chunks: Buffer[] = [];
    request.on('data', (chunk: Buffer) => chunks.push(chunk));
    request.on('end', () => {
      tries += 1;
      const answer = answers.shift() ?? { status: 201, headers: {} };
      const endpoint = `${origin()}${request.url}`;
      const phone = phones.get(endpoint);
      const body = Buffer.concat(chunks);
      if (answer.status === 201 && phone !== undefined)
        received.push({
          endpoint,
          headers: request.headers as Record<string, string | undefined>,
          vapid: verifyVapid(request.headers.authorization ?? ''),
          payload: JSON.parse(decryptPush(body, phone).text) as PushPayload,
          bytes: body.length,
        });
      response.writeHead(phone === undefined ? 404 : answer.status, answer.headers).end();
    });
  });
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
  const origin = (): string => `https://localhost:${(server.address() as AddressInfo).port}`;
  return {
    origin: origin(),
    host: new URL(origin()).host,
    agent: new Agent({ ca: certificate }),
    certificate,
    received,
    answerNext: (status, headers = {}) => answers.push({ status, headers }),
    tries: () => tries,
    subscribe: () => {
      const agreement = createECDH('prime256v1');
      const publicKey = agreement.generateKeys();
      const auth = randomBytes(16);
      const endpoint = `${origin()}/phone/${randomBytes(9).toString('base64url')}`;
      phones.set(endpoint, { privateKey: agreement.getPrivateKey(), publicKey, auth });
      return {
        endpoint,
        keys: { p256dh: publicKey.toString('base64url'), auth: auth.toString('base64url') },
      };
    },
    close: () =>
      new Promise((closed) => {
        server.closeAllConnections();
        server.close(() => closed());
      }),
  };
}
