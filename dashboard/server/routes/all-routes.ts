// Every family of routes, in the order of the description of the interface.

import type { App } from '../base/app.ts';
import type { ServerContext } from '../context/server-context.ts';
import { accessKeyRoutes } from './access-keys.ts';
import { accountRoutes } from './account.ts';
import { alarmActRoutes } from './alarm-acts.ts';
import { alarmQualityRoutes } from './alarm-quality.ts';
import { alarmRoutes } from './alarms.ts';
import { auditRoutes } from './audit.ts';
import { bentStickRoutes } from './bent-stick.ts';
import { authorityRoutes } from './authority.ts';
import { chargeRoutes } from './charges.ts';
import { healthRoutes } from './health.ts';
import { labRoutes } from './lab.ts';
import { labFileRoutes } from './lab-file.ts';
import { liveRoutes } from './live.ts';
import { metricsRoutes } from './metrics.ts';
import { monthRoutes } from './month.ts';
import { nightPostRoutes } from './night-post.ts';
import { nightRoutes } from './night.ts';
import { noticeRoutes } from './notices.ts';
import { patternRoutes } from './patterns.ts';
import { peopleRoutes } from './people.ts';
import { probeRoutes } from './probes.ts';
import { pushRoutes } from './push.ts';
import { quarantineRoutes } from './quarantine.ts';
import { readingRoutes } from './readings.ts';
import { sessionRoutes } from './session.ts';
import { stationSetUpRoutes } from './station-set-up.ts';
import { stationRoutes } from './stations.ts';
import { waxClassRoutes } from './wax-classes.ts';
import { whatIfRoutes } from './what-if.ts';

export const ROUTES: readonly ((app: App, context: ServerContext) => void)[] = [
  healthRoutes,
  stationRoutes,
  probeRoutes,
  readingRoutes,
  quarantineRoutes,
  liveRoutes,
  alarmRoutes,
  alarmActRoutes,
  alarmQualityRoutes,
  pushRoutes,
  noticeRoutes,
  patternRoutes,
  nightRoutes,
  nightPostRoutes,
  monthRoutes,
  chargeRoutes,
  labRoutes,
  stationSetUpRoutes,
  whatIfRoutes,
  waxClassRoutes,
  bentStickRoutes,
  labFileRoutes,
  sessionRoutes,
  accountRoutes,
  peopleRoutes,
  accessKeyRoutes,
  auditRoutes,
  metricsRoutes,
  authorityRoutes,
];
