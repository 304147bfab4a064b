// The door: before a route runs, who asks is found out and held against the permission that the route names.
// A server with a route that names no need does not start, so that none is open by oversight.

import type { FastifyRequest, RouteOptions } from 'fastify';
import type { App } from '../app.ts';
import { HttpProblem } from '../problem.ts';
import { type Actor, standpointOf } from './actor.ts';
import { mayDo, type Need } from './permissions.ts';

declare module 'fastify' {
  interface FastifyContextConfig {
    needs?: Need;
  }
  interface FastifyRequest {
    /** Null only before the door; routes ask `actorOf`. */
    identity: Identity | null;
  }
}

export interface Identity {
  readonly actor: Actor;
  /** Asked again while a long answer runs: false once the session, link or token is no more. */
  readonly stillWelcome: () => boolean;
}

export const actorOf = (request: FastifyRequest): Actor => request.identity?.actor ?? { kind: 'nobody' };

export type Identify = (request: FastifyRequest) => Identity;

export const holdAgainst = (actor: Actor, need: Need): void => {
  if (need === 'nothing') return;
  if (actor.kind === 'nobody')
    throw new HttpProblem(
      'sign-in-needed',
      'Sign in first; programs send a token as `Authorization: Bearer`.',
      {
        headers: { 'www-authenticate': 'Bearer' },
      },
    );
  if (!mayDo(standpointOf(actor), need))
    throw new HttpProblem(
      'not-allowed',
      `The role ${standpointOf(actor)} may not do this (it needs "${need}").`,
    );
};

export const guard = (app: App, identify: Identify): void => {
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
    // An unknown address has no route and says so to everyone.
    if (!request.is404) holdAgainst(identity.actor, request.routeOptions.config.needs ?? 'own-account');
  });
};
