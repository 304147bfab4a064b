// Everything of one site, opened and wired: database, lab, journal and intake, pipeline, web server. The only
// place where the parts meet. Opening takes what is there; closing ends it in the order in which data flows.

import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { openAlarmArchive } from '../alerts/notices/alarm-archive.ts';
import { alarmText } from '../alerts/notices/texts/alarm-text.ts';
import { waxWatch } from '../alerts/watch/wax-watch.ts';
import { type BrokerLogin, brokerLogin } from '../collector/intake/broker-login.ts';
import type { Intake } from '../collector/intake/intake.ts';
import { startIntake } from '../collector/intake/start-intake.ts';
import { tailReader } from '../collector/journal/tail-reader.ts';
import { qualify } from '../collector/qualify/qualify.ts';
import { openQuarantineTable } from '../collector/quarantine-table.ts';
import { openStore } from '../collector/store/open-store.ts';
import { buildServer } from '../dashboard/server/build-server.ts';
import { firstPersonCode } from '../dashboard/server/sign-in/sign-in.ts';
import type { RunningLab } from '../dashboard/queries/running-lab.ts';
import { openDatabase } from '../lab/database.ts';
import { openLabRepository } from '../lab/sqlite-lab-repository.ts';
import { type EpochMillis, epochMillis } from '../wax/units.ts';
import { brokerEndpoint } from './broker-endpoint.ts';
import type { CreateLab } from './create-lab.ts';
import { isLoopback } from '../dashboard/loopback.ts';
import { listening } from './listen-refusal.ts';
import { startNightPost } from './night-post.ts';
import { openNotices } from './notices.ts';
import { Pipeline } from '../pipeline/pipeline.ts';
import { processHealth } from './process-health.ts';
import { publishSignals } from './publish-signals.ts';
import { runningLab } from './running-lab.ts';
import { type SecureHouse, secureHouse } from './secure-house.ts';
import { startSelfCheck } from './self-check.ts';
import type { ProcessSettings } from './settings.ts';
import { version, webRoot } from './shipped.ts';

/** How often the passing of time is written into the journal. */
const TICK_MILLIS = 5000;
/** The journal is told what it may delete in steps of so much, not after each batch. */
const RELEASE_BYTES = 1024 * 1024;

export interface House {
  readonly address: string;
  /** With HTTPS: the plain door, and what to compare before the lab's authority is trusted; else null. */
  readonly trust: { readonly plainAddress: string; readonly fingerprint: string | null } | null;
  readonly running: RunningLab;
  readonly intake: Intake;
  readonly pipeline: Pipeline;
  /** The login of the embedded broker; null with an external one or on loopback. */
  readonly login: (BrokerLogin & { readonly isNew: boolean }) | null;
  /** By which the first manager is made; null when there is one, and in the demonstration. */
  readonly firstPersonCode: string | null;
  /** Tells screens how much of a simulated past is there; null when all is. */
  readonly prepare: (share: number | null) => void;
  /** From now on time passes: without it nothing is ever silent. */
  readonly startClock: () => void;
  readonly close: () => Promise<void>;
}

export interface HouseOptions {
  readonly settings: ProcessSettings;
  readonly now: () => EpochMillis;
  /** Puts a lab into the empty database, before anything reads it. */
  readonly createLab: CreateLab;
}

export async function openHouse({ settings, now, createLab }: HouseOptions): Promise<House> {
  mkdirSync(settings.data, { recursive: true });
  const database = openDatabase(join(settings.data, 'waxwarden.db'));
  const repository = openLabRepository(database);
  createLab(database, repository);
  const site = repository.lab().site.id;
  const secure = await secureOf(settings, repository.lab().site.name, now);
  const archive = openAlarmArchive(database);
  const quarantine = openQuarantineTable(database);
  const journalFolder = join(settings.data, 'journal');
  const reader = tailReader(journalFolder);
  const store = openStore(settings.store, { database, site });
  const login =
    settings.broker.kind === 'embedded' && !isLoopback(settings.host)
      ? brokerLogin(join(settings.data, 'broker-login.json'))
      : null;
  const intake = await startIntake({
    site,
    journalFolder,
    appliedOffset: store.keepFrom(),
    broker:
      settings.broker.kind === 'embedded'
        ? { kind: 'embedded', host: settings.host, port: settings.broker.port, login }
        : settings.broker,
  });
  const notices = openNotices({
    database,
    repository,
    settings,
    intake,
    now,
    openCount: () => waxWatch.openAlarms(pipeline.watchState).length,
  });
  const pipeline: Pipeline = new Pipeline({
    watch: waxWatch,
    qualify,
    store,
    reader,
    lab: repository.lab,
    journalEnd: intake.journalEnd,
    append: intake.append,
    alongside: ({ alarmChanges, rejections, tickedAt }) => [
      archive.write(alarmChanges),
      notices.write(alarmChanges, tickedAt),
      ...(rejections.length > 0 ? [quarantine.write(rejections)] : []),
    ],
    delay,
  });
  let preparing: number | null = null;
  const running = runningLab({
    preparing: () => preparing,
    demo: settings.demo,
    version,
    now,
    repository,
    store,
    archive,
    quarantine,
    watch: waxWatch,
    pipeline,
    notices,
    brokerEndpoint: () => brokerEndpoint(settings, intake.status(), login?.user ?? null),
    health: () =>
      processHealth({
        intake: intake.status(),
        store,
        pipelineProblem: pipeline.problem,
        lab: repository.lab(),
      }),
  });
  let released = 0;
  const release = () => {
    if (store.keepFrom() - released < RELEASE_BYTES) return;
    released = store.keepFrom();
    intake.release(released);
  };
  intake.onJournal(() => void pipeline.follow().then(release));
  const endSignals = publishSignals(running, intake);
  await pipeline.drain();

  const server = buildServer(running, {
    webRoot,
    alarmWords: alarmText,
    database,
    // What comes through a proxy comes from anywhere.
    loopback: isLoopback(settings.host) && settings.behindProxy.length === 0,
    hostNames: settings.hostNames,
    ...(settings.behindProxy.length > 0 && { trustedProxies: settings.behindProxy }),
    ...(secure !== null && {
      tls: secure.pair,
      authority: secure.authority,
      insistOnHttps: secure.isPublic,
    }),
    ...(settings.logLevel !== 'silent' && { log: { level: settings.logLevel, stream: process.stderr } }),
  });
  const { host, port } = settings;
  const address = await listening({ setting: '--port', host, port }, server.listen({ host, port }));
  const attended = await listening(
    { setting: '--http-port', host, port: settings.httpPort },
    secure?.attend(server.server, {
      host,
      port: settings.httpPort,
      securePort: Number(new URL(address).port || 443),
    }) ?? Promise.resolve(undefined),
  );
  let clock: NodeJS.Timeout | null = null;
  let endSelfCheck: (() => void) | null = null;
  let endNightPost: (() => Promise<void>) | null = null;
  return {
    address,
    trust:
      attended === undefined
        ? null
        : { plainAddress: attended.plainAddress, fingerprint: secure?.authority?.fingerprint ?? null },
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
      endSelfCheck ??= startSelfCheck({ store, dataFolder: settings.data, now, append: intake.append });
      endNightPost ??= startNightPost(running, database, settings);
      clock ??= setInterval(() => {
        // A disk that refuses is shown by the journal's own state; the next tick tries again.
        intake.append([{ kind: 'tick', receivedAt: epochMillis(now()) }]).catch(() => {});
      }, TICK_MILLIS);
    },
    close: async () => {
      if (clock !== null) clearInterval(clock);
      endSignals();
      endSelfCheck?.();
      await endNightPost?.();
      await attended?.end();
      await server.close();
      await intake.stop();
      await pipeline.drain();
      await pipeline.stop();
      await notices.stop();
      await store.close();
      reader.close();
      database.close();
    },
  };
}

const secureOf = (
  settings: ProcessSettings,
  labName: string,
  now: () => EpochMillis,
): Promise<SecureHouse> | null =>
  settings.https === null
    ? null
    : secureHouse({
        setting: settings.https,
        dataFolder: settings.data,
        labName,
        hostNames: settings.hostNames,
        now,
      });
