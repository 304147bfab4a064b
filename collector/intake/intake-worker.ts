// The intake thread: broker, decoder and the writing end of the journal. It ends when it is told to stop; an error
// that it did not foresee ends the process, because a collector that only seems to run is worse than none.

import { setTimeout as delay } from 'node:timers/promises';
import { parentPort, workerData } from 'node:worker_threads';
import { problem } from '../../wax/result.ts';
import { epochMillis } from '../../wax/units.ts';
import { decodeMessage } from '../decode/decode-message.ts';
import { rejectionEntries } from '../decode/rejection.ts';
import { JournalFailure } from '../journal/journal-failure.ts';
import { openJournal } from '../journal/open-journal.ts';
import type { BrokerEvents, BrokerSide } from './broker-side.ts';
import { CommitQueue } from './commit-queue.ts';
import { startEmbeddedBroker } from './embedded-broker.ts';
import { startExternalBroker } from './external-broker.ts';
import type { BrokerStatus, IntakeOptions, JournalStatus } from './intake.ts';
import { IntakeRefusal } from './intake-refusal.ts';
import type { FromWorker, ToWorker } from './worker-messages.ts';

const port = parentPort;
if (port === null) throw new Error('intake-worker runs in a worker thread; use startIntake');
const options = workerData as IntakeOptions;
const tell = (message: FromWorker): void => port.postMessage(message);

async function main(): Promise<void> {
  const journal = await openJournal(options.journalFolder, {
    ...(options.segmentBytes === undefined ? {} : { segmentBytes: options.segmentBytes }),
    ...(options.appliedOffset === undefined ? {} : { atLeast: options.appliedOffset }),
  });
  const counts = { received: 0, acknowledged: 0, rejected: 0 };
  let brokerStatus: BrokerStatus | null = null;
  let journalStatus: JournalStatus = { state: 'writing' };
  let isStarted = false;

  const tellStatus = () => {
    if (isStarted && brokerStatus !== null)
      tell({ kind: 'status', status: { broker: brokerStatus, journal: journalStatus } });
  };
  const tellJournal = () => tell({ kind: 'journal', end: journal.end(), counts: { ...counts } });
  const trouble = (failure: JournalFailure | null) => {
    const since = journalStatus.state === 'failing' ? journalStatus.since : epochMillis(Date.now());
    journalStatus =
      failure === null ? { state: 'writing' } : { state: 'failing', since, problem: failure.problem };
    tellStatus();
  };
  const queue = new CommitQueue({ journal, onCommit: tellJournal, onTrouble: trouble, delay });

  const events: BrokerEvents = {
    arrived: ({ topic, payload, delivery }, acknowledge) => {
      const receivedAt = epochMillis(Date.now());
      const decoded = decodeMessage({ topic, payload, receivedAt, delivery, site: options.site });
      counts.received += 1;
      counts.rejected += decoded.rejections.length;
      const entries =
        decoded.rejections.length === 0
          ? decoded.entries
          : [...decoded.entries, ...rejectionEntries(decoded.rejections)];
      queue.add(entries, () => {
        counts.acknowledged += 1;
        acknowledge();
      });
    },
    whenFree: () => (queue.isFull ? queue.whenFree() : null),
    status: (status) => {
      brokerStatus = status;
      tellStatus();
    },
    now: Date.now,
  };
  let broker: BrokerSide;
  try {
    broker =
      options.broker.kind === 'embedded'
        ? await startEmbeddedBroker(options.site, options.broker, events)
        : startExternalBroker(options.site, options.broker, events);
  } catch (error) {
    await journal.close();
    throw error;
  }

  const stop = async () => {
    await broker.pause();
    // A disk that refuses must not hold up the end: what is not on disk is not acknowledged and comes again.
    if (journalStatus.state === 'writing') await queue.idle();
    await broker.stop();
    await journal.close();
    tell({ kind: 'stopped' });
    port?.close();
  };
  const append = async ({ id, entries }: Extract<ToWorker, { kind: 'append' }>) => {
    try {
      const offset = await journal.append(entries);
      if (journalStatus.state === 'failing') trouble(null);
      tell({ kind: 'appended', id, offset });
      tellJournal();
    } catch (error) {
      if (!(error instanceof JournalFailure)) throw error;
      trouble(error);
      tell({ kind: 'not-appended', id, problem: error.problem });
    }
  };
  port?.on('message', (message: ToWorker) => {
    if (message.kind === 'append') void append(message);
    else if (message.kind === 'publish') broker.publish(message.topic, message.payload, message.retain);
    else if (message.kind === 'release') void journal.dropBefore(message.offset);
    else void stop();
  });
  isStarted = true;
  tell({
    kind: 'started',
    end: journal.end(),
    tornTail: journal.tornTail,
    status: { broker: brokerStatus ?? NOT_YET, journal: journalStatus },
  });
}

const NOT_YET: BrokerStatus = {
  state: 'unreachable',
  since: epochMillis(Date.now()),
  attempts: 0,
  problem: problem('broker-not-connected'),
};

main().catch((error: unknown) => {
  if (!(error instanceof JournalFailure || error instanceof IntakeRefusal)) throw error;
  tell({ kind: 'refused', problem: error.problem });
  port.close();
});
