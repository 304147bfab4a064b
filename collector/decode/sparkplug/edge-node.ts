// What a host remembers of one edge node between its birth and its death (Sparkplug 3.0, chapter 5): what its metrics
// mean, under which aliases, and which sequence number comes next. Messages that overtook others wait for them.

import type { EpochMillis } from '../../../wax/units.ts';
import type { Message } from '../message.ts';
import { type MetricMeaning, metricMeaning } from './metric-meaning.ts';
import type { SparkplugMetric, SparkplugPayload } from './payload.ts';

/** Sequence numbers run from 0 to 255 and begin again (3.0, 6.4.5). */
const SEQ_COUNT = 256;

export interface NodeMessage {
  readonly message: Message;
  readonly type: 'DBIRTH' | 'DDEATH' | 'NDATA' | 'DDATA';
  readonly device: string | null;
  readonly payload: SparkplugPayload;
}

export type Meaning = MetricMeaning | 'housekeeping' | 'other';

export class EdgeNode {
  readonly gateway: string;
  readonly bdSeq: number | null;
  readonly #byName = new Map<string, Meaning>();
  readonly #byAlias = new Map<string, Meaning>();
  readonly #probes = new Set<string>();
  readonly #waiting = new Map<number, NodeMessage>();
  #nextSeq: number;
  #waitingSince: EpochMillis | null = null;

  constructor(gateway: string, bdSeq: number | null, seq: number) {
    this.gateway = gateway;
    this.bdSeq = bdSeq;
    this.#nextSeq = (seq + 1) % SEQ_COUNT;
  }

  /** Since when messages wait for one that has not come; null while none does. */
  get waitingSince(): EpochMillis | null {
    return this.#waitingSince;
  }
  get nextSeq(): number {
    return this.#nextSeq;
  }
  get waitingCount(): number {
    return this.#waiting.size;
  }

  /** Learns a metric of a birth message. Two metrics that would be one probe keep their whole names. */
  learn(device: string | null, metric: SparkplugMetric): Meaning {
    const { name, alias } = metric;
    const before = this.#byName.get(nameKey(device, name));
    const given = metricMeaning(device, metric);
    const isNew = before === undefined || typeof before === 'string';
    const meaning =
      typeof given === 'object' && isNew && this.#probes.has(given.probe)
        ? { ...given, probe: wholeName(device, name) }
        : given;
    if (typeof meaning === 'object') this.#probes.add(meaning.probe);
    this.#byName.set(nameKey(device, name), meaning);
    if (alias !== null) this.#byAlias.set(alias, meaning);
    return meaning;
  }

  /** What the birth said of the metric; undefined when it did not name it. */
  meaningOf(device: string | null, { name, alias }: SparkplugMetric): Meaning | undefined {
    return alias === null ? this.#byName.get(nameKey(device, name)) : this.#byAlias.get(alias);
  }

  /**
   * Takes a message into the sequence and answers those whose turn it is, in order. One that is behind its turn was
   * given up or came twice; its values have instants of their own, so it is answered at once.
   */
  inTurn(seq: number, message: NodeMessage): readonly NodeMessage[] {
    const ahead = (seq - this.#nextSeq + SEQ_COUNT) % SEQ_COUNT;
    if (ahead >= SEQ_COUNT / 2) return [message];
    if (ahead > 0) {
      this.#waiting.set(seq, message);
      this.#waitingSince ??= message.message.receivedAt;
      return [];
    }
    this.#nextSeq = (seq + 1) % SEQ_COUNT;
    return [message, ...this.#followers(message.message.receivedAt)];
  }

  /** Gives up the messages that did not come and answers those that waited for them, in order. */
  giveUpMissing(): readonly NodeMessage[] {
    const inOrder = [...this.#waiting].sort(([one], [other]) => this.#distance(one) - this.#distance(other));
    this.#waiting.clear();
    this.#waitingSince = null;
    const last = inOrder.at(-1)?.[0];
    if (last !== undefined) this.#nextSeq = (last + 1) % SEQ_COUNT;
    return inOrder.map(([, message]) => message);
  }

  #distance(seq: number): number {
    return (seq - this.#nextSeq + SEQ_COUNT) % SEQ_COUNT;
  }

  #followers(now: EpochMillis): readonly NodeMessage[] {
    const followers: NodeMessage[] = [];
    for (;;) {
      const next = this.#waiting.get(this.#nextSeq);
      if (next === undefined) break;
      this.#waiting.delete(this.#nextSeq);
      this.#nextSeq = (this.#nextSeq + 1) % SEQ_COUNT;
      followers.push(next);
    }
    this.#waitingSince = this.#waiting.size === 0 ? null : now;
    return followers;
  }
}

const nameKey = (device: string | null, name: string | null): string => `${device ?? ''}\n${name ?? ''}`;

const wholeName = (device: string | null, name: string | null): string =>
  [device, ...(name ?? '').split('/')]
    .flatMap((part) => (part === null || part.trim() === '' ? [] : [part.trim()]))
    .map((part) => part.replaceAll(/[^A-Za-z0-9._-]+/g, '-'))
    .join('.');
