// One's own phones: the key by which they subscribe, and the subscriptions. Only persons have phones: an alarm on a
// phone is for somebody.

import { Type } from 'typebox';
import type { FastifyRequest } from 'fastify';
import { EndpointBody, PushKeyView, SubscriptionBody, SubscriptionView } from '../../../api/phones.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import type { App } from '../../base/app.ts';
import { asHttpProblem, HttpProblem } from '../../base/problem.ts';
import { auditChange } from '../../context/audit-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { actorOf } from '../../sign-in/guard.ts';
import { DONE, Done } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { iso, isoOrNull } from '../../../../wax/iso.ts';

/** Id of the requesting person. */
export const askingPerson = (request: FastifyRequest): string => {
  const actor = actorOf(request);
  if (actor.kind === 'person') return actor.person;
  throw new HttpProblem('not-allowed', { values: { who: 'token' } });
};

const phonesOf = ({ notices }: RunningLab, person: string): SubscriptionView[] =>
  notices.subscriptions
    .of(person)
    .map(({ id, name, endpoint, madeAt, testedAt }) => ({
      id,
      name,
      endpoint,
      madeAt: iso(madeAt),
      testedAt: isoOrNull(testedAt),
    }));

export const ownPhoneRoutes = (app: App, { running }: ServerContext): void => {
  app.get(
    '/api/push/key',
    describeRoute('own-account', 'notices', 'The key by which a phone subscribes', {
      response: { 200: PushKeyView },
    }),
    () => ({ key: running.notices.pushKey }),
  );
  app.get(
    '/api/push/subscriptions',
    describeRoute('own-account', 'notices', 'Your phones', {
      response: { 200: Type.Array(SubscriptionView) },
    }),
    (request) => phonesOf(running, askingPerson(request)),
  );
};

export const subscribePhone = (app: App, { running, audit }: ServerContext): void => {
  const { notices } = running;
  app.post(
    '/api/push/subscriptions',
    describeRoute('own-account', 'notices', 'Subscribe this phone', {
      description:
        'As the browser gave it; sent again at each opening. The push service must be a known one.',
      body: SubscriptionBody,
      response: { 200: Type.Array(SubscriptionView) },
    }),
    (request) => {
      const person = askingPerson(request);
      const { endpoint, keys, name, replaces } = request.body;
      const phones = notices.subscriptions.of(person);
      const isNew = !phones.some((phone) => phone.endpoint === endpoint);
      // A phone whose push service changed its address sends the address alone; it is the same phone.
      const before = phones.find((phone) => phone.endpoint === replaces || phone.endpoint === endpoint);
      const saved = notices.subscribe(person, { endpoint, keys }, name ?? before?.name ?? '');
      if (!saved.ok) throw asHttpProblem(saved.problem);
      if (replaces !== undefined && replaces !== endpoint) notices.unsubscribe(person, replaces);
      if (isNew) auditChange(audit, request, { action: 'phone-subscribed', subject: ['phone', saved.value] });
      return phonesOf(running, person);
    },
  );
};

export const unsubscribePhone = (app: App, { running, audit }: ServerContext): void => {
  app.delete(
    '/api/push/subscriptions',
    describeRoute('own-account', 'notices', 'Unsubscribe one of your phones', {
      querystring: EndpointBody,
      response: { 200: Done },
    }),
    (request) => {
      const person = askingPerson(request);
      if (!running.notices.unsubscribe(person, request.query.endpoint))
        throw new HttpProblem('unknown-phone');
      auditChange(audit, request, { action: 'phone-unsubscribed', subject: ['phone', person] });
      return DONE;
    },
  );
};
