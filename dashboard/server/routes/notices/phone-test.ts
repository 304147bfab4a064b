// The test of the whole way to a phone: sent through the outbox, reported back by the phone when it shows it.

import { EndpointBody, ShownBody } from '../../../api/phones.ts';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import { auditChange } from '../../context/audit-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { DONE, Done } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { askingPerson } from './phones.ts';

export const phoneTest = (app: App, { running, audit }: ServerContext): void => {
  const { notices } = running;
  app.post(
    '/api/push/test',
    describeRoute('own-account', 'notices', 'Send a test to one of your phones', {
      description:
        'It goes through the outbox and the push service; the phone reports back when it shows it.',
      body: EndpointBody,
      response: { 200: Done },
    }),
    (request) => {
      const subscription = notices.subscriptions
        .of(askingPerson(request))
        .find(({ endpoint }) => endpoint === request.body.endpoint);
      if (subscription === undefined) throw new HttpProblem('unknown-phone');
      notices.test(subscription);
      return DONE;
    },
  );
  app.post(
    '/api/push/shown',
    describeRoute('own-account', 'notices', 'The phone showed the test', {
      description: 'Called by the service worker of the phone.',
      body: ShownBody,
      response: { 200: Done },
    }),
    (request) => {
      const person = askingPerson(request);
      if (!notices.shown(person, request.body.test)) throw new HttpProblem('unknown-test');
      auditChange(audit, request, { action: 'phone-tested', subject: ['phone', person] });
      return DONE;
    },
  );
};
