// Everything of one site, opened and wired: database, lab, journal and intake, pipeline, web server. The only
// place where the parts meet. Opening takes what is there; closing ends it in the order in which data flows.

import { basename } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import type { NoticeDesk } from '../../alerts/notices/notice-desk.ts';
import { waxWatch } from '../../alerts/watch/wax-watch.ts';
import type { BrokerLogin } from '../../collector/intake/broker-login.ts';
import type { Intake } from '../../collector/intake/intake.ts';
import { qualify } from '../../collector/qualify/qualify.ts';
import type { Store } from '../../collector/store/store.ts';
import { openCopyRecord } from '../../lab/database/copy-record.ts';
import { gatherDay } from '../../dashboard/reports/day/gather-day.ts';
import type { RunningLab } from '../../dashboard/queries/running-lab.ts';
import { openGatewayAccounts } from '../../dashboard/server/sign-in/gateway-accounts.ts';
import { firstPersonCode } from '../../dashboard/server/sign-in/sign-in.ts';
import { type GroupReporting, startGroupReporting } from '../../pipeline/group-link/group-reporting.ts';
import { Pipeline } from '../../pipeline/pipeline.ts';
import { publishAsGateway } from '../../collector/intake/publish-as-gateway.ts';
import { TEST_READING } from '../../lab/test-reading.ts';
import { publishSignals } from '../../pipeline/publish-signals.ts';
import { openUnrecordedAlarm } from '../../pipeline/unrecorded-alarm.ts';
import type { EpochMillis } from '../../wax/units.ts';
import { brokerEndpoint, gatewayDoor } from './broker-endpoint.ts';
import type { CreateLab } from '../data/create-lab.ts';
import { type LabData, openLabData } from '../data/lab-data.ts';
import { startHeartbeat } from './heartbeat.ts';
import type { Log } from '../console/log.ts';
import { logLab, noticeEvent } from '../console/log-events.ts';
import { mailNow } from './mail-now.ts';
import { openNotices } from './notices.ts';
import { loginOf, openIntake } from './open-intake.ts';
import { startPeriodicWork } from './periodic-work.ts';
import { processHealth } from './process-health.ts';
import { answersOfParts } from './running-lab.ts';
import type { ProcessSettings } from '../settings/settings.ts';
import { version } from './shipped.ts';
import { httpsOf, openWebServer, type WebServer } from './web-server.ts';

/** The journal is released for deletion in steps of so much, not after each batch. */
const RELEASE_BYTES = 1024 * 1024;
/** Of the four and a half seconds in which the process ends. */
const DRAIN_MILLIS = 2000;

export interface LabProcess extends Pick<WebServer, 'address' | 'trust'> {
  readonly running: RunningLab;
  readonly intake: Intake;
  readonly pipeline: Pipeline;
  /** The login of the embedded broker; null with an external one or on loopback. */
  readonly login: BrokerLogin | null;
  /** By which the first manager is made; null when there is one, and in the demonstration. */
  readonly firstPersonCode: string | null;
  /** Shows on the screens how much of a simulated past is there; null when all is. */
  readonly prepare: (share: number | null) => void;
  /** From now on time passes: without it nothing is ever silent. */
  readonly startClock: () => void;
  readonly close: () => Promise<void>;
}

export interface LabProcessOptions {
  readonly settings: ProcessSettings;
  readonly now: () => EpochMillis;
  readonly log: Log;
  /** Puts a lab into the empty database, before anything reads it. */
  readonly createLab: CreateLab;
}

// biome-ignore lint/complexity/noExcessiveLinesPerFunction: the wiring of all parts, in the order in which they need each other
export async function openLabProcess(options: LabProcessOptions): Promise<LabProcess> {
  const { settings, now, log } = options;
  const data = openLabData(settings, options.createLab, now);
  const { archive, connections, database, entryRecord, groupLink, groupOffers, mappings } = data;
  const { quarantine, repository, store } = data;
  const copies = openCopyRecord(database);
  let renewed: Intake['setCertificate'] = () => {};
  const https = await httpsOf(
    settings,
    repository.lab().site.name,
    now,
    (pair) => renewed(pair),
    () => connections.setting().hostNames,
  );
  const login = loginOf(settings);
  const accounts = openGatewayAccounts(database, now).all();
  const intake = await openIntake(settings, data, login, accounts, https?.pair ?? null);
  renewed = intake.setCertificate;
  mappings.onChange(intake.map);
  let preparing: number | null = null;
  const notices = openNotices({
    database,
    repository,
    settings,
    intake,
    now,
    openCount: () => waxWatch.openAlarms(pipeline.watchState).length,
    isSending: () => preparing === null,
    mail: mailNow(settings, connections),
    onTried: (row, isDelivered) => noticeEvent(log, row, isDelivered),
  });
  for (const before of data.peopleBefore) {
    const after = repository.lab().people.find(({ id }) => id === before.id);
    if (after !== undefined) notices.notifyOfNewEmail(before, after, basename(settings.lab ?? ''));
  }
  const pipeline: Pipeline = pipelineOf(data, intake, notices);
  const unrecorded = openUnrecordedAlarm({
    trouble: () => {
      const { journal } = intake.status();
      return journal.state === 'failing' ? journal.problem : pipeline.problem;
    },
    now,
    publish: (change) => pipeline.publish({ kind: 'alarm', change }),
    notify: (kind, alarm) => void notices.sendUnrecorded(kind, alarm),
  });
  let groupReporting: GroupReporting | null = null;
  const intakeSite = repository.lab().site.id;
  repository.onChange(() => pipeline.publish({ kind: 'lab' }));
  const running: RunningLab = {
    ...answersOfParts({
      archive,
      entryRecord,
      now,
      pipeline,
      preparing: () => preparing,
      quarantine,
      repository,
      unrecorded,
      watch: waxWatch,
    }),
    demo: settings.demo,
    version,
    startedAt: now(),
    now,
    preparing: () => preparing,
    repository,
    store,
    mappings,
    groupLink,
    groupOffers,
    connections,
    groupLinkStatus: () => groupReporting?.status() ?? null,
    notices,
    setGatewayAccounts: intake.setGatewayAccounts,
    intakeCounts: intake.counts,
    lastCopyAt: () => copies.lastGood()?.at ?? null,
    certificateEndsAt: () => https?.endsAt() ?? null,
    brokerEndpoint: () => brokerEndpoint(settings, intake.status(), login?.user ?? null),
    publishTestReading: () =>
      publishAsGateway(
        gatewayDoor(settings, intake.status(), login),
        `wax/${repository.lab().site.id}/${TEST_READING.gateway}/${TEST_READING.probe}/celsius`,
        String(TEST_READING.celsius),
      ),
    health: () =>
      processHealth({
        intake: intake.status(),
        store,
        pipelineProblem: pipeline.problem,
        lab: repository.lab(),
        intakeSite,
        certificateEndsAt: https?.endsAt() ?? null,
        now: now(),
      }),
  };
  const release = releaseOf(store, intake);
  intake.onJournal(() => void pipeline.follow().then(release));
  const endSignals = publishSignals(running, intake);
  const endLog = logLab(log, intake, running.subscribe);
  // People see at once that it works through what came while it was away; nothing shows as known before it is.
  void pipeline.drain();
  const web = await openWebServer({ settings, log }, running, database, https, connections);
  groupReporting = startGroupReporting(
    {
      now,
      repository,
      store,
      archive,
      offset: () => pipeline.offset,
      statuses: running.statuses,
      openAlarms: running.openAlarms,
      patternOutlook: (id) => running.patternOutlook?.(id),
      dayFigures: (from, to) => gatherDay(running, from, to),
    },
    groupLink,
    groupOffers,
    running.subscribe,
  );
  let endHeartbeat: (() => void) | null = null;
  let endPeriodicWork: (() => Promise<void>) | null = null;
  return {
    address: web.address,
    trust: web.trust,
    running,
    intake,
    pipeline,
    login,
    firstPersonCode: settings.demo ? null : firstPersonCode(running, database, settings.newManagerCode),
    prepare: (share) => {
      preparing = share;
      if (share === null) pipeline.publish({ kind: 'lab' });
    },
    startClock: () => {
      endHeartbeat ??= startHeartbeat({ running, intake, log, url: settings.heartbeat });
      endPeriodicWork ??= startPeriodicWork(settings, running, intake, data, { pipeline, unrecorded });
    },
    close: async () => {
      endSignals();
      endLog();
      endHeartbeat?.();
      await endPeriodicWork?.();
      await Promise.all([web.close(), groupReporting?.stop()]);
      await intake.stop();
      // What is left then is in the journal and takes effect at the next start: a long backlog or a disk that refuses must
      // not hold up the end.
      await Promise.race([pipeline.drain(), delay(DRAIN_MILLIS, undefined, { ref: false })]);
      await pipeline.stop();
      await notices.stop();
      await data.close();
    },
  };
}

const pipelineOf = (
  { archive, entryRecord, groupLink, quarantine, reader, repository, store }: LabData,
  intake: Intake,
  notices: NoticeDesk,
): Pipeline =>
  new Pipeline({
    watch: waxWatch,
    qualify,
    store,
    reader,
    lab: repository.lab,
    journalEnd: intake.journalEnd,
    append: intake.append,
    alongside: ({ alarmChanges, offset, readings, recorded, rejections, tickedAt }) => [
      archive.write(alarmChanges),
      notices.write(alarmChanges, tickedAt),
      ...groupLink.owe(readings, offset),
      ...(recorded.length > 0 ? [entryRecord.write(recorded)] : []),
      ...(rejections.length > 0 ? [quarantine.write(rejections)] : []),
    ],
    delay,
  });

/** Releases what the store has taken whole. */
function releaseOf(store: Store, intake: Intake): () => void {
  let released = 0;
  return () => {
    if (store.keepFrom() - released < RELEASE_BYTES) return;
    released = store.keepFrom();
    intake.release(released);
  };
}
