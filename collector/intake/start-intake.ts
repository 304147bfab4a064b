// Starts the intake thread and exchanges messages with it. One for a process and a journal folder.

import { Worker } from 'node:worker_threads';
import type { Entry } from '../../lab/entry.ts';
import type { Problem } from '../../wax/result.ts';
import { JournalFailure, type JournalFailureCode } from '../journal/journal-failure.ts';
import type { BrokerAnswer } from '../../lab/broker-answer.ts';
import type { Intake, IntakeCounts, IntakeOptions, IntakeStatus } from './intake.ts';
import { IntakeRefusal, type IntakeRefusalCode } from './intake-refusal.ts';
import type { FromWorker, ToWorker } from './worker-messages.ts';

/** A message is held as bytes until its commit, and little of it is copied; a larger nursery is only more to hold. */
const YOUNG_MEGABYTES = 24;

type Started = Extract<FromWorker, { kind: 'started' }>;

/**
 * Resolves once the journal is open and an embedded broker listens; an external broker may still be away.
 * Rejects with `IntakeRefusal` or `JournalFailure` when that cannot be.
 */
export const startIntake = (options: IntakeOptions): Promise<Intake> =>
  intakeWhenStarted(startWorker(options));

/** From sources the thread needs the loader that strips types; what is built needs nothing. */
function startWorker(options: IntakeOptions): Worker {
  const isSource = import.meta.url.endsWith('.ts');
  return new Worker(new URL(isSource ? './intake-worker.ts' : './intake-worker.js', import.meta.url), {
    name: 'intake',
    workerData: options,
    resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MEGABYTES },
    execArgv: isSource
      ? ['--import', new URL('../../scripts/typescript-hooks.mjs', import.meta.url).href]
      : [],
  });
}

function intakeWhenStarted(worker: Worker): Promise<Intake> {
  return new Promise((resolve, reject) => {
    worker.once('error', reject);
    worker.once('message', (message: FromWorker) => {
      // From here on an error of the thread has no listener, and so ends the process.
      worker.off('error', reject);
      // At once, so that no message falls between two listeners.
      if (message.kind === 'started') resolve(intakeOf(worker, message));
      else if (message.kind === 'refused') reject(toError(message.problem));
      else reject(new Error(`intake sent ${message.kind} before it started`));
    });
  });
}

const INTAKE_CODES: Record<IntakeRefusalCode, true> = {
  'broker-needs-login': true,
  'broker-port': true,
  'broker-authority': true,
};
const toError = ({ code, values = {} }: Problem): Error =>
  Object.hasOwn(INTAKE_CODES, code)
    ? new IntakeRefusal(code as IntakeRefusalCode, values)
    : new JournalFailure(code as JournalFailureCode, values);

const listeners = <T>() => {
  const all = new Set<(value: T) => void>();
  return {
    on: (listener: (value: T) => void) => {
      all.add(listener);
      return () => {
        all.delete(listener);
      };
    },
    notify: (value: T) => {
      for (const listener of all) listener(value);
    },
  };
};

function intakeOf(worker: Worker, started: Started): Intake {
  let end = started.end;
  let status: IntakeStatus = started.status;
  let counts: IntakeCounts = { received: 0, acknowledged: 0, rejected: 0 };
  let lastId = 0;
  const appends = new Map<number, { resolve: (offset: number) => void; reject: (error: Error) => void }>();
  const deliveries = new Map<number, (answer: BrokerAnswer) => void>();
  const onJournal = listeners<number>();
  const onStatus = listeners<IntakeStatus>();
  const send = (message: ToWorker): void => worker.postMessage(message);
  let stopped: Promise<void> | null = null;

  const take = (id: number) => {
    const append = appends.get(id);
    appends.delete(id);
    return append;
  };
  worker.on('message', (message: FromWorker) => {
    if (message.kind === 'journal') {
      counts = message.counts;
      const hasGrown = message.end > end;
      end = message.end;
      if (hasGrown) onJournal.notify(end);
    } else if (message.kind === 'status') {
      status = message.status;
      onStatus.notify(status);
    } else if (message.kind === 'appended') {
      // The append may be awaited by someone who reads the journal at once.
      end = Math.max(end, message.offset);
      take(message.id)?.resolve(message.offset);
      onJournal.notify(end);
    } else if (message.kind === 'not-appended') take(message.id)?.reject(toError(message.problem));
    else if (message.kind === 'answered') {
      deliveries.get(message.id)?.(message.answer);
      deliveries.delete(message.id);
    }
  });

  return {
    journalEnd: () => end,
    tornTail: started.tornTail,
    status: () => status,
    counts: () => counts,
    onJournal: onJournal.on,
    onStatus: onStatus.on,
    append: (entries: readonly Entry[]) =>
      new Promise((resolve, reject) => {
        lastId += 1;
        appends.set(lastId, { resolve, reject });
        send({ kind: 'append', id: lastId, entries });
      }),
    publish: (topic, payload, { retain }) => send({ kind: 'publish', topic, payload, retain }),
    deliver: (topic, payload) =>
      new Promise((resolve) => {
        lastId += 1;
        deliveries.set(lastId, resolve);
        send({ kind: 'deliver', id: lastId, topic, payload });
      }),
    map: (mappings) => send({ kind: 'mappings', mappings }),
    setGatewayAccounts: (accounts) =>
      send({
        kind: 'accounts',
        accounts: accounts.map(({ gateway, passwordHash }) => ({ gateway, passwordHash })),
      }),
    setCertificate: ({ cert, key }) => send({ kind: 'certificate', certificate: { cert, key } }),
    release: (offset) => send({ kind: 'release', offset }),
    stop: () => {
      stopped ??= new Promise((resolve) => {
        worker.once('exit', () => resolve());
        send({ kind: 'stop' });
      });
      return stopped;
    },
  };
}
