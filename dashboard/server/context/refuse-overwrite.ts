// Two pages change the same at once, of two people or of one: what is saved last would undo what was saved first, unseen.
// So a request may say which change was the newest when it read what it changes, and after it which changes its page has
// made since (`If-Match`, RFC 9110). It is refused where it would take back any other; what it leaves as it is, it does not.

import type { FastifyReply, FastifyRequest } from 'fastify';
import { type AuditEntity, IN_LAB_FILE } from '../../api/audit-entities.ts';
import { HttpProblem } from '../base/problem.ts';
import { authorOf } from '../sign-in/guard.ts';
import type { Audit } from './audit.ts';
import { iso } from '../../../wax/iso.ts';

/** The number of the newest change on record; what is read carries it. */
export const versionOf = (audit: Audit): number => audit.list({ limit: 1 })[0]?.sequence ?? 0;

/** Sends the number of the newest change with what is read, for the `If-Match` of a change of it. */
export const tagVersion = (audit: Audit, reply: FastifyReply): void => {
  reply.header('etag', `"${versionOf(audit)}"`);
};

/** More than are made while a form is open. */
const MOST_SINCE = 1000;
/** What a lab file describes, each with a change of its own. */
const RECORDS_OF_LAB: readonly AuditEntity[] = ['site', 'station', 'probe', 'wax-class'];

interface Change {
  readonly subject: readonly [entity: AuditEntity, id: string];
  readonly before?: unknown;
  readonly after?: unknown;
}

/** Pointers of the values in which two records differ; `''` where one of them is none. */
function differences(left: unknown, right: unknown, at = ''): readonly string[] {
  if (JSON.stringify(left) === JSON.stringify(right)) return [];
  if (!isRecord(left) || !isRecord(right)) return [at];
  return [...new Set([...Object.keys(left), ...Object.keys(right)])].flatMap((key) =>
    differences(left[key], right[key], `${at}/${key}`),
  );
}
const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const isWithin = (inner: string, outer: string): boolean => inner === outer || inner.startsWith(`${outer}/`);

const tagsIn = (header: string): readonly number[] =>
  /^"\d{1,15}"(, *"\d{1,15}")*$/.test(header) ? (header.match(/\d+/g) ?? []).map(Number) : [];

/** @throws HttpProblem that says who changed what. */
export function refuseOverwrite(audit: Audit, request: FastifyRequest, change: Change): void {
  const [version, ...own] = tagsIn(request.headers['if-match'] ?? '');
  if (version === undefined) return;
  const [entity, entityId] = change.subject;
  // A lab file changes every record of the lab, and every record that changed is one of its own.
  const since = [
    audit.list({ entity, entityId, limit: MOST_SINCE }),
    ...(entity === 'lab'
      ? RECORDS_OF_LAB.map((record) => audit.list({ entity: record, limit: MOST_SINCE }))
      : IN_LAB_FILE.includes(entity)
        ? [audit.list({ entity: 'lab', limit: 1 })]
        : []),
  ]
    .flat()
    .filter(({ sequence }) => sequence > version && !own.includes(sequence));
  const mine = differences(change.before ?? null, change.after ?? null);
  const theirs = since.flatMap((row) => (row.entity === entity ? differences(row.before, row.after) : ['']));
  const lost = mine.filter((at) => theirs.some((pointer) => isWithin(at, pointer) || isWithin(pointer, at)));
  const [newest] = since;
  if (newest === undefined || lost.length === 0) return;
  const whose = newest.actor === authorOf(request) ? 'own' : 'another';
  const values = { name: newest.actor, whose, changed_at: iso(newest.at) };
  throw new HttpProblem('changed-meanwhile', {
    values,
    errors: lost.map((at) => ({ pointer: `/body${at}`, code: 'changed-meanwhile', values })),
  });
}
