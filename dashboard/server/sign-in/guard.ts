// The door: before a route runs, the requester is identified and checked against the permission that the route names.
// A server with a route that names no need does not start, so that none is open by oversight.

import type { FastifyRequest, RouteOptions } from 'fastify';
import type { App } from '../base/app.ts';
import { HttpProblem } from '../base/problem.ts';
import { type Actor, actorName, standpointOf } from './actor.ts';
import {
  ALL_PERMISSIONS,
  ASKS_PASSWORD_AGAIN,
  mayDo,
  type Need,
  type Permission,
  PERSONS_ONLY,
} from './permissions.ts';

declare module 'fastify' {
  interface FastifyContextConfig {
    needs?: Need;
  }
  interface FastifyRequest {
    /** Null only before the check; routes use `actorOf`. */
    identity: Identity | null;
  }
}

export interface Identity {
  readonly actor: Actor;
  /** Asked again while a long answer runs: false once the session, link or token is no more. */
  readonly stillWelcome: () => boolean;
}

export const actorOf = (request: FastifyRequest): Actor => request.identity?.actor ?? { kind: 'nobody' };

/** Who it is, as histories and the records of the lab name them. */
export const authorOf = (request: FastifyRequest): string => actorName(actorOf(request));

export type Identify = (request: FastifyRequest) => Identity;

const isAllowed = (actor: Exclude<Actor, { kind: 'nobody' }>, permission: Permission): boolean =>
  mayDo(standpointOf(actor), permission) && (actor.kind === 'person' || !PERSONS_ONLY.has(permission));

export const permissionsOf = (actor: Actor): readonly Permission[] =>
  actor.kind === 'nobody' ? [] : ALL_PERMISSIONS.filter((permission) => isAllowed(actor, permission));

const holdAgainst = (actor: Actor, need: Permission): void => {
  if (actor.kind === 'nobody')
    throw new HttpProblem('sign-in-needed', { headers: { 'www-authenticate': 'Bearer' } });
  if (!isAllowed(actor, need))
    throw new HttpProblem('not-allowed', {
      values: {
        who: actor.kind === 'program' && PERSONS_ONLY.has(need) ? 'token' : standpointOf(actor),
        needs: need,
      },
    });
};

/** `hasConfirmed` returns whether the person typed the password lately, and prolongs it. */
export const guard = (app: App, identify: Identify, hasConfirmed: (session: string) => boolean): void => {
  app.decorateRequest('identity', null);
  const routes: RouteOptions[] = [];
  app.addHook('onRoute', (route) => {
    routes.push(route);
  });
  app.addHook('onReady', async () => {
    for (const route of routes)
      if (route.config?.needs === undefined)
        throw new Error(`The route ${String(route.method)} ${route.url} names no permission that it needs.`);
  });
  app.addHook('onRequest', async (request) => {
    const identity = identify(request);
    request.identity = identity;
    // An unknown address has no route and is answered so to everyone.
    const need = request.is404 ? 'nothing' : (request.routeOptions.config.needs ?? 'own-account');
    if (need === 'nothing') return;
    const { actor } = identity;
    holdAgainst(actor, need);
    if (actor.kind === 'person' && ASKS_PASSWORD_AGAIN.has(need) && !hasConfirmed(actor.session))
      throw new HttpProblem('confirm-password');
  });
};
