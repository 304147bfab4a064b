// Probes, claimed and unclaimed.

import { Type } from 'typebox';
import { TEST_READING } from '../../../lab/test-reading.ts';
import { reasonOf } from '../../../wax/problem-error.ts';
import { BrokerEndpointView, TestReadingView } from '../../api/lab-bodies.ts';
import { NothingBody } from '../../api/patterns.ts';
import { ProbeView } from '../../api/schemas.ts';
import type { App } from '../base/app.ts';
import { HttpProblem } from '../base/problem.ts';
import { auditChange } from '../context/audit-change.ts';
import type { ServerContext } from '../context/server-context.ts';
import { probeViews } from '../views/probe-view.ts';
import { describeRoute } from './common/describe-route.ts';

export const probeRoutes = (app: App, { running, audit }: ServerContext): void => {
  app.get(
    '/api/probes',
    describeRoute('read', 'measuring', 'Every probe that was ever seen or entered', {
      description: 'A probe seen for the first time has `claimed: false` until it is given to a station.',
      response: { 200: Type.Array(ProbeView) },
    }),
    () => [...probeViews(running)],
  );
  app.get(
    '/api/broker-endpoint',
    describeRoute('set-up-lab', 'set-up', 'Where gateways publish to', {
      description: 'The password of the own broker is printed by the program when it starts and stays there.',
      response: { 200: BrokerEndpointView },
    }),
    () => ({ own: true, host: null, port: 1883, user: null, tls: false, ...running.brokerEndpoint?.() }),
  );
  app.post(
    '/api/test-reading',
    describeRoute('set-up-lab', 'set-up', 'Send a test reading through the broker', {
      description:
        'This program publishes one reading as a gateway does, from the gateway `test`, so that it goes the whole way of a ' +
        'real one. Its probe appears among those without a station.',
      body: NothingBody,
      response: { 200: TestReadingView },
    }),
    async (request) => {
      try {
        await running.publishTestReading?.();
      } catch (error) {
        throw new HttpProblem('test-reading-refused', { values: { reason: reasonOf(error) } });
      }
      auditChange(audit, request, { action: 'test-reading', subject: ['probe', TEST_READING.probe] });
      return TEST_READING;
    },
  );
};
