// A test of each route by which alarms leave the lab, other than a phone's. What became of it is in the delivery log.

import type { Lab } from '../../../../lab/lab.ts';
import { notificationPlanOf } from '../../../../lab/notification-plan.ts';
import { RouteTestBody, RouteTestView } from '../../../api/notification-plan.ts';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import { auditChange } from '../../context/audit-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { describeRoute } from '../common/describe-route.ts';
import { askingPerson } from './phones.ts';

/** Only what the lab has set up is tested: else anybody's address could be written to from here. */
const isSetUp = ({ channel, address }: RouteTestBody, lab: Lab, mailIsSetUp: boolean): boolean => {
  const { webhooks, lampTopics } = notificationPlanOf(lab);
  switch (channel) {
    case 'mail':
      return mailIsSetUp;
    case 'webhook':
      return webhooks.some(({ id }) => id === address);
    case 'lamp':
      return lampTopics.includes(address);
    case 'mqtt':
      return true;
  }
};

export const routeTest = (app: App, { running, audit }: ServerContext): void => {
  const { notices } = running;
  app.post(
    '/api/notification-plan/test',
    describeRoute('set-up-lab', 'notices', 'Send a test over a route of the plan', {
      description:
        'By e-mail to whoever asks, to a webhook or a lamp of the saved plan, or to the broker under `wax/{site}/change/test`.',
      body: RouteTestBody,
      response: { 200: RouteTestView },
    }),
    (request) => {
      const lab = running.lab();
      const { channel, address } = request.body;
      if (!isSetUp(request.body, lab, notices.mailIsSetUp()))
        throw new HttpProblem('unknown-route', { values: { channel, address } });
      const person = channel === 'mail' ? askingPerson(request) : null;
      const to = {
        mail: person ?? '',
        webhook: address,
        lamp: address,
        mqtt: `wax/${lab.site.id}/change/test`,
      };
      const number = notices.testRoute(channel, to[channel], person);
      if (number === null) throw new HttpProblem('unknown-route', { values: { channel, address } });
      auditChange(audit, request, { action: 'route-tested', subject: ['telling', channel] });
      return { number };
    },
  );
};
