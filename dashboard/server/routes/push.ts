// One's own phones: the key by which they subscribe, the subscriptions, the test of the whole way. Only persons
// have phones: an alarm on a phone is for somebody.

import { Type } from 'typebox';
import type { FastifyRequest } from 'fastify';
import {
  EndpointBody,
  PushKeyView,
  ShownBody,
  SubscriptionBody,
  SubscriptionView,
} from '../../api/telling.ts';
import type { App } from '../base/app.ts';
import { audited } from '../context/audited.ts';
import { iso } from '../base/instant.ts';
import { HttpProblem } from '../base/problem.ts';
import type { ServerContext } from '../context/server-context.ts';
import { actorOf } from '../sign-in/guard.ts';
import { answers, DONE, Done } from './answers.ts';

export const pushRoutes = (app: App, { running, audit }: ServerContext): void => {
  const { notices } = running;
  const config = { needs: 'own-account' } as const;
  const me = (request: FastifyRequest): string => {
    const actor = actorOf(request);
    if (actor.kind === 'person') return actor.person;
    throw new HttpProblem('not-allowed', 'Only persons have phones; sign in as yourself.');
  };
  const mine = (person: string) =>
    notices.subscriptions.of(person).map(({ id, name, endpoint, madeAt, testedAt }) => ({
      ...{ id, name, endpoint },
      madeAt: iso(madeAt),
      testedAt: testedAt === null ? null : iso(testedAt),
    }));
  const tags = ['notices'];

  app.get(
    '/api/push/key',
    {
      config,
      schema: { tags, summary: 'The key by which a phone subscribes', response: answers(PushKeyView) },
    },
    () => ({ key: notices.pushKey }),
  );
  app.get(
    '/api/push/subscriptions',
    {
      config,
      schema: { tags, summary: 'Your phones', response: answers(Type.Array(SubscriptionView)) },
    },
    (request) => mine(me(request)),
  );
  app.post(
    '/api/push/subscriptions',
    {
      config,
      schema: {
        tags,
        summary: 'Subscribe this phone',
        description:
          'As the browser gave it; sent again at each opening. The push service must be a known one.',
        body: SubscriptionBody,
        response: answers(Type.Array(SubscriptionView)),
      },
    },
    (request) => {
      const person = me(request);
      const { endpoint, keys, name, replaces } = request.body;
      const phones = notices.subscriptions.of(person);
      const isNew = !phones.some((one) => one.endpoint === endpoint);
      // A phone whose push service changed its address says the address alone; it is the same phone.
      const before = phones.find((one) => one.endpoint === replaces || one.endpoint === endpoint);
      const saved = notices.subscribe(person, { endpoint, keys }, name ?? before?.name ?? '');
      if (!saved.ok) throw new HttpProblem('push-service-unknown', saved.problem.message);
      if (replaces !== undefined && replaces !== endpoint) notices.unsubscribe(person, replaces);
      if (isNew)
        audited(audit, request, { action: 'phone-subscribed', entity: 'phone', entityId: saved.value });
      return mine(person);
    },
  );
  app.delete(
    '/api/push/subscriptions',
    {
      config,
      schema: {
        tags,
        summary: 'Unsubscribe one of your phones',
        querystring: EndpointBody,
        response: answers(Done),
      },
    },
    (request) => {
      if (!notices.unsubscribe(me(request), request.query.endpoint))
        throw new HttpProblem('unknown-phone', 'This phone is not subscribed for you.');
      audited(audit, request, { action: 'phone-unsubscribed', entity: 'phone', entityId: me(request) });
      return DONE;
    },
  );
  app.post(
    '/api/push/test',
    {
      config,
      schema: {
        tags,
        summary: 'Send a test to one of your phones',
        description:
          'It goes through the outbox and the push service; the phone reports back when it shows it.',
        body: EndpointBody,
        response: answers(Done),
      },
    },
    (request) => {
      const subscription = notices.subscriptions
        .of(me(request))
        .find(({ endpoint }) => endpoint === request.body.endpoint);
      if (subscription === undefined)
        throw new HttpProblem('unknown-phone', 'This phone is not subscribed for you; subscribe it first.');
      notices.test(subscription);
      return DONE;
    },
  );
  app.post(
    '/api/push/shown',
    {
      config,
      schema: {
        tags,
        summary: 'The phone showed the test',
        description: 'Called by the service worker of the phone.',
        body: ShownBody,
        response: answers(Done),
      },
    },
    (request) => {
      const person = me(request);
      if (!notices.shown(person, request.body.test))
        throw new HttpProblem('unknown-test', 'There is no such test, or it was reported already.');
      audited(audit, request, { action: 'phone-tested', entity: 'phone', entityId: person });
      return DONE;
    },
  );
};
