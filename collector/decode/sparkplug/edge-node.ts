// What a host keeps of one edge node between its birth and its death (Sparkplug 3.0, chapter 5): what its metrics
// mean, under which aliases, and which sequence number comes next. Messages that overtook others wait for them.

import { failure, type Result, success } from '../../../wax/result.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import { idOfName, nameDigest } from '../identifier.ts';
import type { Message } from '../message.ts';
import { type MetricMeaning, metricMeaning, type StatusMeaning } from './metric-meaning.ts';
import type { SparkplugMetric, SparkplugPayload } from './payload.ts';

/** Sequence numbers run from 0 to 255 and begin again (3.0, 6.4.5). */
const SEQ_COUNT = 256;

export interface NodeMessage {
  readonly message: Message;
  readonly type: 'DBIRTH' | 'DDEATH' | 'NDATA' | 'DDATA';
  readonly device: string | null;
  readonly payload: SparkplugPayload;
}

export type Meaning = MetricMeaning | StatusMeaning | 'housekeeping' | 'other' | 'unread';

/** The birth of a device, or of the node itself. */
interface Birth {
  readonly byName: Map<string, Meaning>;
  readonly byAlias: Map<string, Meaning>;
  readonly templateNames: Map<string, string>;
}
/** Under which the node itself is listed among its devices; no device has an empty name. */
const NODE = '';
/** More than any node of the trade has: births that make up names must not fill the memory. */
const MOST_METRICS = 10_000;

export class EdgeNode {
  readonly gateway: string;
  readonly bdSeq: number | null;
  readonly #births = new Map<string, Birth>();
  /** Of each probe, the device and the whole name of its metric. */
  readonly #probes = new Map<string, { readonly device: string | null; readonly name: string }>();
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

  /** A birth names everything anew, and a death ends it: what was known of the device before no longer holds. */
  forget(device: string | null): void {
    this.#births.delete(device ?? NODE);
    for (const [probe, owner] of this.#probes) if (owner.device === device) this.#probes.delete(probe);
  }

  /**
   * Learns a metric of a birth message. Two metrics that would be one probe keep their whole names. An alias counts for
   * its device alone; where a birth gives it to two metrics, it is taken for neither.
   */
  learn(device: string | null, metric: SparkplugMetric): Result<Meaning> {
    const { alias } = metric;
    const name = metric.name ?? '';
    if (this.#metricCount() >= MOST_METRICS)
      return failure('sparkplug-too-many-metrics', { most: MOST_METRICS });
    const birth = this.#birthOf(device);
    if (alias !== null && birth.byAlias.has(alias)) {
      birth.byAlias.set(alias, 'other');
      return failure('sparkplug-alias-twice', { name, alias });
    }
    const given = metricMeaning(device, metric);
    const meaning =
      typeof given === 'object' && 'probe' in given
        ? { ...given, probe: this.#freeId(given.probe, device, name) }
        : given;
    if (typeof meaning === 'object' && 'probe' in meaning) this.#probes.set(meaning.probe, { device, name });
    birth.byName.set(name, meaning);
    if (alias !== null) birth.byAlias.set(alias, meaning);
    if (alias !== null && metric.template !== null) birth.templateNames.set(alias, name);
    return success(meaning);
  }

  /** What the birth held of the metric; undefined when it did not name it. */
  meaningOf(device: string | null, { name, alias }: SparkplugMetric): Meaning | undefined {
    const birth = this.#births.get(device ?? NODE);
    const byName = name === null ? undefined : birth?.byName.get(name);
    return alias === null ? byName : (birth?.byAlias.get(alias) ?? byName);
  }

  /** The name of a template, by which its members are known; data may leave it to the alias. */
  templateName(device: string | null, { name, alias }: SparkplugMetric): string | null {
    return name ?? this.#births.get(device ?? NODE)?.templateNames.get(alias ?? '') ?? null;
  }

  /** The probes of a device, or those of the node itself. */
  probesOf(device: string | null): readonly string[] {
    return [...this.#probes].flatMap(([probe, owner]) => (owner.device === device ? [probe] : []));
  }

  #birthOf(device: string | null): Birth {
    const none: Birth = { byName: new Map(), byAlias: new Map(), templateNames: new Map() };
    const birth = this.#births.get(device ?? NODE) ?? none;
    this.#births.set(device ?? NODE, birth);
    return birth;
  }

  #metricCount(): number {
    return [...this.#births.values()].reduce((sum, { byName }) => sum + byName.size, 0);
  }

  /**
   * The id itself, the whole name where another metric has it, or the whole name with a digest: two probes are never
   * one.
   */
  #freeId(probe: string, device: string | null, name: string): string {
    const whole = wholeName(device, name);
    const isFree = (id: string): boolean => {
      const owner = this.#probes.get(id);
      return owner === undefined || (owner.device === device && owner.name === name);
    };
    return [probe, whole].find(isFree) ?? `${whole}-${nameDigest(`${device}/${name}`)}`;
  }

  /**
   * Takes a message into the sequence and returns those whose turn it is, in order. One that is behind its turn was
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

  /** Gives up the messages that did not come and returns those that waited for them, in order. */
  giveUpMissing(): readonly NodeMessage[] {
    const inOrder = [...this.#waiting].sort(
      ([first], [second]) => this.#distance(first) - this.#distance(second),
    );
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

const wholeName = (device: string | null, name: string): string =>
  [device, ...name.split('/')]
    .flatMap((part) => (part === null || part.trim() === '' ? [] : [idOfName(part)]))
    .join('.');
