// Whether the program is well, and what is not: for people, for a container's health check, for other programs.

import { epochMillis } from '../../../wax/units.ts';
import { HealthView } from '../../api/schemas.ts';
import type { App } from '../base/app.ts';
import { partHealthView } from '../views/part-health-view.ts';
import { hostNamesNow } from '../views/host-names-now.ts';
import { labOrigin } from '../views/lab-origin.ts';
import type { ServerContext } from '../context/server-context.ts';
import { actorOf } from '../sign-in/guard.ts';
import { sayToReader } from '../sign-in/reader.ts';
import { describeRoute } from './common/describe-route.ts';
import { iso } from '../../../wax/iso.ts';

export const healthRoutes = (app: App, { running, options }: ServerContext): void => {
  app.get(
    '/api/health',
    describeRoute('nothing', 'measuring', 'Whether all parts work', {
      description:
        '`degraded` when a part does not answer; the rest goes on. Always status 200 while the program runs. ' +
        'Who is not signed in learns that it runs and whose it is, not the version and the parts.',
      response: { 200: HealthView },
    }),
    async (request) => {
      const { site } = running.lab();
      const parts = await running.health();
      const origin = labOrigin({
        hostNames: hostNamesNow(running, options),
        loopback: options.loopback,
        isSecure: options.tls !== undefined,
        behindProxy: (options.trustedProxies ?? []).length > 0,
        port: request.socket.localPort ?? 0,
      });
      const say = sayToReader(request, running);
      const isKnown = actorOf(request).kind !== 'nobody';
      return {
        status: Object.values(parts).every((part) => part.ok) ? ('ok' as const) : ('degraded' as const),
        site: site.id,
        siteName: site.name,
        timeZone: site.timeZone,
        demo: running.demo,
        preparing: running.preparing?.() ?? null,
        startedAt: iso(running.startedAt),
        now: iso(epochMillis(running.now())),
        ...(isKnown
          ? {
              version: running.version,
              reachedAt: origin,
              parts: Object.fromEntries(
                Object.entries(parts).map(([name, part]) => [name, partHealthView(part, say)]),
              ),
            }
          : {}),
      };
    },
  );
};
