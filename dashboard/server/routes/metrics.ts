// /metrics in the text exposition format, for a program that collects figures with the token of a viewer.

import { Type } from 'typebox';
import type { App } from '../base/app.ts';
import { openMetrics } from '../views/metrics.ts';
import type { ServerContext } from '../context/server-context.ts';
import { describeRoute } from './common/describe-route.ts';

export const metricsRoutes = (app: App, { running, feed }: ServerContext): void => {
  const metrics = openMetrics(running, feed.clients);
  app.get(
    '/metrics',
    describeRoute('read', 'measuring', 'Figures of the program in the text exposition format', {
      description: 'The program that collects them sends the token of a viewer.',
      response: {
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
