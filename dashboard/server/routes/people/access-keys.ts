// Tokens for programs, links for wall screens and for calendars: made by a manager, shown once, taken back at any time.

import { type TSchema, Type } from 'typebox';
import { AccessKeyView, NewAccessKey, NewTokenBody, NewWallLinkBody } from '../../../api/people.ts';
import type { Role } from '../../../../lab/person.ts';
import type { FastifyRequest } from 'fastify';
import type { App } from '../../base/app.ts';
import { auditChange } from '../../context/audit-change.ts';
import { HttpProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';
import type { AccessKey, AccessKeyKind } from '../../sign-in/access-keys.ts';
import { cookieOf, setCookie } from '../../sign-in/cookies.ts';
import { authorOf } from '../../sign-in/guard.ts';
import { readerOf } from '../../sign-in/reader.ts';
import { refuseNameTaken } from '../../sign-in/naming.ts';
import { DONE, Done } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { iso, isoOrNull } from '../../../../wax/iso.ts';

const view = (key: AccessKey) => ({
  id: key.id,
  name: key.name,
  role: key.role,
  madeBy: key.madeBy,
  madeAt: iso(key.madeAt),
  usedAt: isoOrNull(key.usedAt),
});

interface Words {
  readonly path: '/api/tokens' | '/api/wall-links' | '/api/calendar-links';
  readonly list: string;
  readonly make: string;
  readonly how: string;
  readonly revoke: string;
}

const KINDS: Readonly<Record<AccessKeyKind, Words>> = {
  program: {
    path: '/api/tokens',
    list: 'Tokens of programs',
    make: 'Make a token for a program',
    how: 'The program sends it as `Authorization: Bearer ...`. It may do what its role may, but not manage people.',
    revoke: 'Take a token back',
  },
  screen: {
    path: '/api/wall-links',
    list: 'Links of wall screens',
    make: 'Make a link for a wall screen',
    how: 'Open `path` on the screen once. It then reads what hangs on the wall, through restarts, until it is revoked.',
    revoke: 'Take a wall link back',
  },
  calendar: {
    path: '/api/calendar-links',
    list: 'Links of calendars',
    make: 'Make a link for a calendar',
    how: 'A calendar program subscribes to `path`. It then reads duty and patterns due, until the link is revoked.',
    revoke: 'Take a calendar link back',
  },
};

/** Where the secret opens something; a program sends it in a header. */
const pathOf = (kind: AccessKeyKind, key: string, language: string): string | null => {
  if (kind === 'screen') return `/wall?key=${key}`;
  return kind === 'calendar' ? `/api/calendar.ics?key=${key}&lang=${language}` : null;
};

export const accessKeyRoutes = (app: App, context: ServerContext): void => {
  const { signIn, audit } = context;
  const make = (request: FastifyRequest, kind: AccessKeyKind, name: string, role: Role | null) => {
    // What acts under a person's name would be taken for the person.
    refuseNameTaken(context.running.lab().people, name);
    const { key, secret } = signIn.keys.make(kind, name.trim(), role, authorOf(request));
    auditChange(audit, request, { action: `${kind}-key-made`, subject: ['access-key', key.id], after: key });
    return {
      key: view(key),
      secret,
      path: pathOf(kind, encodeURIComponent(secret), readerOf(request, context.running, {}).language),
    };
  };
  for (const kind of Object.keys(KINDS) as AccessKeyKind[]) {
    const words = KINDS[kind];
    app.get(
      words.path,
      describeRoute('manage-people', 'people', words.list, { response: { 200: Type.Array(AccessKeyView) } }),
      () => signIn.keys.all(kind).map(view),
    );
    app.delete(
      `${words.path}/:id`,
      describeRoute('manage-people', 'people', words.revoke, {
        params: Type.Object({ id: Type.String({ maxLength: 40 }) }),
        response: { 200: Done },
      }),
      (request) => {
        const { id } = request.params as { id: string };
        if (!signIn.keys.revoke(kind, id)) throw new HttpProblem('unknown-key');
        auditChange(audit, request, { action: `${kind}-key-revoked`, subject: ['access-key', id] });
        return DONE;
      },
    );
  }
  const describeMaking = <Body extends TSchema>(kind: AccessKeyKind, body: Body) =>
    describeRoute('manage-people', 'people', KINDS[kind].make, {
      description: KINDS[kind].how,
      body,
      response: { 200: NewAccessKey },
    });
  app.post(KINDS.program.path, describeMaking('program', NewTokenBody), (request) =>
    make(request, 'program', request.body.name, request.body.role),
  );
  for (const kind of ['screen', 'calendar'] as const)
    app.post(KINDS[kind].path, describeMaking(kind, NewWallLinkBody), (request) =>
      make(request, kind, request.body.name, null),
    );
};

/** `/wall?key=...` gives the screen its cookie and hides the key from the address; `/wall` renews the cookie. */
export const wallLinkDoor = (app: App, { signIn }: ServerContext): void => {
  app.addHook('onRequest', async (request, reply) => {
    if (request.method !== 'GET' || !/^\/wall(\?|$)/.test(request.url)) return;
    const { key } = request.query as { key?: unknown };
    if (key === undefined) {
      const present = cookieOf(request, 'wall');
      if (present !== undefined && signIn.keys.find('screen', present) !== null)
        setCookie(request, reply, 'wall', present);
      return;
    }
    if (typeof key !== 'string' || signIn.keys.find('screen', key) === null)
      return reply.redirect('/sign-in?because=wall-link-unknown', 303);
    setCookie(request, reply, 'wall', key);
    return reply.redirect('/wall', 303);
  });
};
