// The intake thread: broker, decoder and the writing end of the journal. It ends on `stop`; an error
// that it did not foresee ends the process, because a collector that only seems to run is worse than none.

import { setTimeout as delay } from 'node:timers/promises';
import { parentPort, workerData } from 'node:worker_threads';
import type { PayloadMapping } from '../../lab/database/payload-mapping.ts';
import { problem } from '../../wax/result.ts';
import { epochMillis } from '../../wax/units.ts';
import { rejectionEntries, SAMPLE_BYTES } from '../decode/rejection.ts';
import type { Journal } from '../journal/journal.ts';
import { JournalFailure } from '../journal/journal-failure.ts';
import { openJournal } from '../journal/open-journal.ts';
import type { BrokerEvents, BrokerSide } from './broker-side.ts';
import { CommitQueue } from './commit-queue.ts';
import { startEmbeddedBroker } from './embedded-broker.ts';
import { startExternalBroker } from './external-broker.ts';
import type { BrokerStatus, IntakeOptions, JournalStatus } from './intake.ts';
import { IntakeRefusal } from './intake-refusal.ts';
import { type DecodedSink, type MessageDecoder, messageDecoder } from './message-decoder.ts';
import type { FromWorker, ToWorker } from './worker-messages.ts';

const port = parentPort;
if (port === null) throw new Error('intake-worker runs in a worker thread; use startIntake');
const options = workerData as IntakeOptions;
const send = (message: FromWorker): void => port.postMessage(message);

/** What the main thread is shown: nothing before `started`, then every change. */
class Reports {
  readonly counts = { received: 0, acknowledged: 0, rejected: 0 };
  #broker: BrokerStatus | null = null;
  #journal: JournalStatus = { state: 'writing' };
  #isStarted = false;

  get isWriting(): boolean {
    return this.#journal.state === 'writing';
  }
  set broker(status: BrokerStatus) {
    this.#broker = status;
    this.#sendStatus();
  }
  /** The failure of the journal; null once it takes entries again. */
  readonly trouble = (failure: JournalFailure | null): void => {
    const since = this.#journal.state === 'failing' ? this.#journal.since : epochMillis(Date.now());
    this.#journal =
      failure === null ? { state: 'writing' } : { state: 'failing', since, problem: failure.problem };
    this.#sendStatus();
  };
  started(journal: Journal): void {
    this.#isStarted = true;
    const status = { broker: this.#broker ?? NOT_YET, journal: this.#journal };
    send({ kind: 'started', end: journal.end(), tornTail: journal.tornTail, status });
  }
  grown(journal: Journal): void {
    send({ kind: 'journal', end: journal.end(), counts: { ...this.counts } });
  }
  #sendStatus(): void {
    if (this.#isStarted && this.#broker !== null)
      send({ kind: 'status', status: { broker: this.#broker, journal: this.#journal } });
  }
}

const brokerEvents = (queue: CommitQueue, reports: Reports, decoder: MessageDecoder): BrokerEvents => ({
  arrived: ({ topic, payload, delivery }, acknowledge) => {
    reports.counts.received += 1;
    const receivedAt = epochMillis(Date.now());
    decoder.receive({ topic, payload, receivedAt, delivery, site: options.site }, acknowledge);
  },
  refused: (topic, { code, values }, payload) => {
    reports.counts.rejected += 1;
    const rejection = {
      topic,
      code,
      ...(values !== undefined && { values }),
      at: epochMillis(Date.now()),
      sample: payload.slice(0, SAMPLE_BYTES),
      bytes: payload.length,
    };
    queue.add(rejectionEntries([rejection]), () => {});
  },
  whenFree: () => (queue.isFull ? queue.whenFree() : null),
  status: (status) => {
    reports.broker = status;
  },
  now: Date.now,
});

/** `broker` returns null until it has started. */
const makeQueueSink = (
  queue: CommitQueue,
  reports: Reports,
  broker: () => BrokerSide | null,
): DecodedSink => ({
  add: (entries, rejected, committed) => {
    const { counts } = reports;
    counts.rejected += rejected;
    queue.add(entries, () => {
      counts.acknowledged += 1;
      committed();
    });
  },
  send: ({ topic, payload }) => broker()?.publish(topic, payload, false),
});

async function startBroker(events: BrokerEvents): Promise<BrokerSide> {
  const { broker, site } = options;
  return broker.kind === 'embedded'
    ? startEmbeddedBroker(site, broker, events)
    : startExternalBroker(site, broker, events);
}

async function append(
  journal: Journal,
  reports: Reports,
  { id, entries }: Extract<ToWorker, { kind: 'append' }>,
): Promise<void> {
  try {
    const offset = await journal.append(entries);
    if (!reports.isWriting) reports.trouble(null);
    send({ kind: 'appended', id, offset });
    reports.grown(journal);
  } catch (error) {
    if (!(error instanceof JournalFailure)) throw error;
    reports.trouble(error);
    send({ kind: 'not-appended', id, problem: error.problem });
  }
}

async function main(): Promise<void> {
  const { appliedOffset, journalFolder, journalSyncMillis, segmentBytes } = options;
  const journal = await openJournal(journalFolder, {
    ...(segmentBytes !== undefined && { segmentBytes }),
    ...(appliedOffset !== undefined && { atLeast: appliedOffset }),
    ...(journalSyncMillis !== undefined && { syncMillis: journalSyncMillis }),
  });
  const reports = new Reports();
  const queue = new CommitQueue({
    journal,
    onCommit: () => reports.grown(journal),
    onTrouble: reports.trouble,
    delay,
  });
  let started: BrokerSide | null = null;
  const decoder = messageDecoder(makeQueueSink(queue, reports, () => started));
  let broker: BrokerSide;
  try {
    broker = await startBroker(brokerEvents(queue, reports, decoder));
    started = broker;
  } catch (error) {
    decoder.stop();
    await journal.close();
    throw error;
  }
  const stop = async (): Promise<void> => {
    await broker.pause();
    decoder.stop();
    // A disk that refuses must not hold up the end: what is not on disk is not acknowledged and comes again.
    if (reports.isWriting) await queue.idle();
    await broker.stop();
    await journal.close();
    send({ kind: 'stopped' });
    port?.close();
  };
  const map = (mappings: readonly PayloadMapping[]): void => {
    decoder.map(mappings);
    broker.follow(mappings.map(({ topic }) => topic));
  };
  map(options.mappings ?? []);
  port?.on('message', (message: ToWorker) => {
    if (message.kind === 'append') void append(journal, reports, message);
    else if (message.kind === 'publish') broker.publish(message.topic, message.payload, message.retain);
    else if (message.kind === 'deliver')
      void broker
        .deliver(message.topic, message.payload)
        .then((answer) => send({ kind: 'answered', id: message.id, answer }));
    else if (message.kind === 'mappings') map(message.mappings);
    else if (message.kind === 'accounts') broker.setAccounts?.(message.accounts);
    else if (message.kind === 'certificate') broker.setCertificate?.(message.certificate);
    else if (message.kind === 'release') void journal.dropBefore(message.offset);
    else void stop();
  });
  reports.started(journal);
}

const NOT_YET: BrokerStatus = {
  state: 'unreachable',
  since: epochMillis(Date.now()),
  attempts: 0,
  problem: problem('broker-not-connected'),
};

main().catch((error: unknown) => {
  if (!(error instanceof JournalFailure || error instanceof IntakeRefusal)) throw error;
  send({ kind: 'refused', problem: error.problem });
  port.close();
});
