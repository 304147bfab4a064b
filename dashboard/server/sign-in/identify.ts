// Identifies the requester: a token first, then a session, then a wall's link, at last the visitor of a demonstration.
// A token that is no more makes nobody: a program must be answered so, whatever cookie comes with it.

import type { FastifyRequest } from 'fastify';
import type { RunningLab } from '../../queries/running-lab.ts';
import type { Actor } from './actor.ts';
import { cookieOf } from './cookies.ts';
import type { Identify, Identity } from './guard.ts';
import type { SignIn } from './sign-in.ts';

const NOBODY: Identity = { actor: { kind: 'nobody' }, stillWelcome: () => false };

const bearer = (request: FastifyRequest): string | null =>
  /^Bearer +(\S+)$/i.exec(request.headers.authorization ?? '')?.[1] ?? null;

/** A proxy on the same machine brings strangers, who are no visitors of a demonstration on loopback. */
const cameByProxy = (request: FastifyRequest): boolean =>
  request.headers['x-forwarded-for'] !== undefined || request.headers.forwarded !== undefined;

export const identify = (running: RunningLab, signIn: SignIn, loopback: boolean): Identify => {
  const program = (secret: string): Actor | null => {
    const key = signIn.keys.find('program', secret);
    return key === null || key.role === null
      ? null
      : { kind: 'program', token: key.id, name: key.name, role: key.role };
  };
  const person = (secret: string): Actor | null => {
    const session = signIn.sessions.find(secret);
    const owner = running.lab().people.find(({ id }) => id === session?.person);
    if (session === null || owner === undefined) return null;
    signIn.sessions.see(session);
    return { kind: 'person', person: owner.id, name: owner.name, role: owner.role, session: session.id };
  };
  const screen = (secret: string): Actor | null => {
    const key = signIn.keys.find('screen', secret);
    return key === null ? null : { kind: 'screen', link: key.id, name: key.name };
  };
  const identifyBy = (secret: string, find: (secret: string) => Actor | null): Identity | null => {
    const actor = find(secret);
    return actor === null ? null : { actor, stillWelcome: () => find(secret) !== null };
  };
  return (request) => {
    const token = bearer(request);
    if (token !== null) return identifyBy(token, program) ?? NOBODY;
    const session = cookieOf(request, 'session');
    const wall = cookieOf(request, 'wall');
    const identity =
      (session === undefined ? null : identifyBy(session, person)) ??
      (wall === undefined ? null : identifyBy(wall, screen));
    if (identity?.actor.kind === 'person') return identity;
    if (running.demo && loopback && !cameByProxy(request))
      return { actor: { kind: 'demo-visitor' }, stillWelcome: () => true };
    return identity ?? NOBODY;
  };
};
