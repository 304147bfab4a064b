// Acts that a phone queued while it was offline and sends again are done once: the answer of an `Idempotency-Key`
// (after the IETF httpapi draft of that name) is kept for a week and given again. Only acts of the daily work
// take part: answers that show a secret are never kept.

import type { LabDatabase } from '../../lab/database/database.ts';
import { type EpochMillis, MILLIS_PER_DAY } from '../../wax/units.ts';
import type { App } from './base/app.ts';
import { fieldProblem, HttpProblem } from './base/problem.ts';
import { authorOf } from './sign-in/guard.ts';
import type { Need } from './sign-in/permissions.ts';
import { hashOfSecret } from './sign-in/secret.ts';

const STEPS = [
  `CREATE TABLE kept_answer (key TEXT PRIMARY KEY, at INTEGER NOT NULL, request TEXT NOT NULL, status INTEGER NOT NULL,
   body TEXT NOT NULL) WITHOUT ROWID;`,
];
const KEPT_MILLIS = 7 * MILLIS_PER_DAY;
const LONGEST_KEY = 100;
const TAKES_PART: ReadonlySet<Need> = new Set(['handle-alarms', 'tend-stations', 'tend-patterns']);

interface StoredAnswer {
  readonly request: string;
  readonly status: number;
  readonly body: string;
}

declare module 'fastify' {
  interface FastifyRequest {
    /** Under which the answer is to be kept, with a hash of the request. */
    keepAnswer: { readonly key: string; readonly request: string } | null;
  }
}

export const idempotency = (app: App, database: LabDatabase, now: () => EpochMillis): void => {
  database.migrate('kept-answers', STEPS);
  const { writer, writeIfPossible } = database;
  const find = writer.prepare<[string, number], StoredAnswer>(
    'SELECT * FROM kept_answer WHERE key = ? AND at > ?',
  );
  const keep = writer.prepare('INSERT OR REPLACE INTO kept_answer VALUES (?, ?, ?, ?, ?)');
  const forget = writer.prepare('DELETE FROM kept_answer WHERE at <= ?');
  const running = new Set<string>();

  app.decorateRequest('keepAnswer', null);
  app.addHook('preHandler', async (request, reply) => {
    const given = request.headers['idempotency-key'];
    const needs = request.routeOptions.config.needs ?? 'nothing';
    if (typeof given !== 'string' || request.method !== 'POST' || !TAKES_PART.has(needs)) return;
    if (given.length > LONGEST_KEY)
      throw fieldProblem('/headers/idempotency-key', 'field-too-long', { limit: LONGEST_KEY });
    const key = hashOfSecret(JSON.stringify([authorOf(request), given]));
    // Without the query: it holds the reader's language and unit, which may be changed while the act waits.
    const asked = hashOfSecret(JSON.stringify([request.url.split('?')[0], request.body]));
    const earlier = find.get(key, now() - KEPT_MILLIS);
    if (earlier !== undefined && earlier.request !== asked) throw new HttpProblem('key-reused');
    if (earlier !== undefined) {
      reply.header('idempotency-replayed', 'true');
      return reply.code(earlier.status).send(JSON.parse(earlier.body));
    }
    if (running.has(key)) throw new HttpProblem('act-running', { headers: { 'retry-after': '1' } });
    running.add(key);
    request.keepAnswer = { key, request: asked };
  });
  app.addHook('preSerialization', async (request, reply, payload) => {
    const { keepAnswer } = request;
    if (keepAnswer !== null && reply.statusCode < 300) {
      // The act is done: an answer that cannot be kept must not make it look refused.
      writeIfPossible(() => {
        forget.run(now() - KEPT_MILLIS);
        keep.run(keepAnswer.key, now(), keepAnswer.request, reply.statusCode, JSON.stringify(payload));
      });
    }
    return payload;
  });
  app.addHook('onResponse', async (request) => {
    if (request.keepAnswer !== null) running.delete(request.keepAnswer.key);
  });
};
