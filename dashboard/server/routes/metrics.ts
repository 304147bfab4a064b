// /metrics for a Prometheus server, which sends a token of a viewer.

import { Type } from 'typebox';
import type { App } from '../base/app.ts';
import { openMetrics } from '../views/metrics.ts';
import type { ServerContext } from '../context/server-context.ts';
import { answers } from './common/answers.ts';
import { describeRoute } from './common/describe-route.ts';

export const metricsRoutes = (app: App, { running, feed }: ServerContext): void => {
  const metrics = openMetrics(running, feed.clients);
  app.get(
    '/metrics',
    describeRoute('read', 'measuring', 'Figures for a Prometheus server', {
      description: 'Text exposition format. Have the server send the token of a viewer.',
      response: {
        ...answers(Type.Null()),
        200: { description: 'Text exposition format', content: { 'text/plain': { schema: Type.String() } } },
      },
    }),
    async (_request, reply) => {
      const text = await metrics.text();
      return reply.type(metrics.contentType).send(text);
    },
  );
  app.addHook('onResponse', async (request, reply) => {
    const route = request.routeOptions.url ?? 'unknown';
    metrics.answered(request.method, route, reply.statusCode, reply.elapsedTime / 1000);
  });
};
