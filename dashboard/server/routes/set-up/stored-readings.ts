// How long readings stay and what that deletes, readings that the store refused, copies of the data.

import type { Expiring } from '../../../../collector/store/expired.ts';
import type { KindRetention } from '../../../../collector/store/retention.ts';
import type { StoreRetention } from '../../../../collector/store/store.ts';
import { type CopyRecord, openCopyRecord } from '../../../../lab/database/copy-record.ts';
import { kindOfProbe } from '../../../../lab/probes/kind-of-probe.ts';
import { epochMillis } from '../../../../wax/units.ts';
import {
  ExpiringView,
  RetentionBody,
  SentAgainView,
  StoredReadingsView,
} from '../../../api/stored-readings.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import type { App } from '../../base/app.ts';
import { fieldProblem, HttpProblem } from '../../base/problem.ts';
import { auditChange } from '../../context/audit-change.ts';
import { tagVersion } from '../../context/refuse-overwrite.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { describeRoute } from '../common/describe-route.ts';
import { iso, isoOrNull } from '../../../../wax/iso.ts';

const MOST_REFUSED = 100;
const MOST_COPIES = 10;

const checkSpans = ({ kinds }: RetentionBody): readonly KindRetention[] => {
  const short = kinds.findIndex(
    ({ readingsDays, hoursDays }) =>
      hoursDays !== null && (readingsDays === null || hoursDays < readingsDays),
  );
  if (short !== -1) throw fieldProblem(`/body/kinds/${short}/hoursDays`, 'field-too-small');
  return kinds;
};

const expiring = (running: RunningLab, retention: StoreRetention, kinds: readonly KindRetention[]) => {
  const kindOf = kindOfProbe(running.lab());
  return retention
    .expiring(kinds, running.now(), kindOf)
    .map(({ probe, readings, oldest }: Expiring) => ({
      kind: kindOf(probe),
      probe,
      readings,
      oldest: oldest === null ? null : iso(epochMillis(oldest)),
    }));
};

const storedReadingsView = async (running: RunningLab, copies: CopyRecord) => {
  const { retention, serverRetention, setAside } = running.store;
  const beginsAt = retention?.beginsAt() ?? null;
  return {
    retention:
      retention === null
        ? null
        : {
            kinds: [...retention.kinds()],
            beginsAt: isoOrNull(beginsAt),
            expiring: expiring(running, retention, retention.kinds()),
          },
    serverRetention: (await serverRetention?.()) ?? null,
    refused: (setAside?.readings(MOST_REFUSED) ?? []).map(({ reading: { probe, at, celsius }, reason }) => ({
      probe,
      at: iso(at),
      celsius,
      reason,
    })),
    copies: copies
      .newest(MOST_COPIES)
      .map(({ at, file, bytes, fault }) => ({
        at: iso(at),
        file,
        megabytes: bytes === null ? null : Math.round(bytes / 1e5) / 10,
        fault,
      })),
  };
};

export const storedReadingsRoutes = (app: App, { running, options, audit }: ServerContext): void => {
  const copies = openCopyRecord(options.database);
  const retentionOf = (): StoreRetention => {
    const { retention } = running.store;
    if (retention === null) throw new HttpProblem('retention-elsewhere');
    return retention;
  };
  const view = () => storedReadingsView(running, copies);

  app.get(
    '/api/stored-readings',
    describeRoute(
      'set-up-lab',
      'set-up',
      'How long readings stay, which the store refused, and the copies of the data',
      { response: { 200: StoredReadingsView } },
    ),
    (_request, reply) => {
      tagVersion(audit, reply);
      return view();
    },
  );
  app.post(
    '/api/stored-readings/preview',
    describeRoute('set-up-lab', 'set-up', 'What a retention would delete now; it changes nothing', {
      body: RetentionBody,
      response: { 200: ExpiringView },
    }),
    (request) => {
      const retention = retentionOf();
      const asked = new Map(checkSpans(request.body).map((row) => [row.kind, row]));
      return expiring(
        running,
        retention,
        retention.kinds().map((row) => asked.get(row.kind) ?? row),
      );
    },
  );
  app.put(
    '/api/stored-readings/retention',
    describeRoute(
      'set-up-lab',
      'set-up',
      'Set how long readings and the figures of hours stay, by station kind',
      {
        description: 'Takes effect a day later. Kinds that are not named stay as they are.',
        body: RetentionBody,
        response: { 200: StoredReadingsView },
      },
    ),
    (request) => {
      const retention = retentionOf();
      const before = retention.kinds();
      const kinds = checkSpans(request.body);
      options.database.transaction(() => {
        retention.set(kinds, running.now());
        auditChange(audit, request, {
          action: 'retention-changed',
          subject: ['retention', 'retention'],
          before,
          after: retention.kinds(),
        });
      });
      return view();
    },
  );
  app.post(
    '/api/stored-readings/send-again',
    describeRoute('set-up-lab', 'set-up', 'Offer the readings that the store refused to it once more', {
      response: { 200: SentAgainView },
    }),
    (request) => {
      const count = running.store.setAside?.sendAgain() ?? 0;
      if (count > 0)
        auditChange(audit, request, {
          action: 'readings-sent-again',
          subject: ['retention', 'refused'],
          after: { count },
        });
      return { count };
    },
  );
};
