// A Sparkplug B host application (Eclipse Sparkplug 3.0) as far as temperatures need one: births define what metrics mean,
// data follows in sequence, deaths take the node offline, and a node that cannot be understood is sent a request for its births.
// No clock and no connection of its own: time comes with messages and with `expire`, commands are answered as data.

import { failure, type Problem, problem, type Result, success } from '../../../wax/result.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import { collectReadings, type GivenValue } from '../collect-readings.ts';
import type { GivenStatus } from '../device-status.ts';
import { gatewayId, idOfName } from '../identifier.ts';
import { type Decoded, type Message, NOTHING } from '../message.ts';
import { reject } from '../reject.ts';
import { withinSize } from '../text.ts';
import { EdgeNode, type NodeMessage } from './edge-node.ts';
import { readStatuses, readValues } from './metric-values.ts';
import { membersOf } from './template-members.ts';
import { metricNumber, rebirthCommand, type SparkplugMetric, sparkplugPayload } from './payload.ts';

export const SPARKPLUG_ROOT = 'spBv1.0';

export interface HostCommand {
  readonly topic: string;
  readonly payload: Uint8Array;
}

export interface HostStep {
  readonly decoded: Decoded;
  readonly commands: readonly HostCommand[];
}

/** A birth names every metric of a node, so it is far longer than a pack of readings. */
const MESSAGE_BYTES = 512 * 1024;
/** Messages that overtake each other on a network are milliseconds apart; what is missing longer is lost. */
const REORDER_MILLIS = 5000;
const MOST_WAITING = 100;
/** A node that does not answer gets no request more often; common practice. */
const REBIRTH_MILLIS = 30_000;
/** More nodes than any lab has: names made up by a stranger must not fill the memory. */
const MOST_NODES = 200;
const COMMANDS = new Set(['NCMD', 'DCMD', 'STATE']);
const TYPES = ['NBIRTH', 'NDEATH', 'DBIRTH', 'DDEATH', 'NDATA', 'DDATA'] as const;
type MessageType = (typeof TYPES)[number];

interface Address {
  readonly group: string;
  readonly type: MessageType;
  readonly edge: string;
  /** The edge node as the lab names it. */
  readonly gateway: string;
  readonly device: string | null;
}

const NO_STEP: HostStep = { decoded: NOTHING, commands: [] };
const joinSteps = (steps: readonly HostStep[]): HostStep => ({
  decoded: {
    entries: steps.flatMap(({ decoded }) => decoded.entries),
    rejections: steps.flatMap(({ decoded }) => decoded.rejections),
  },
  commands: steps.flatMap(({ commands }) => commands),
});
const rejectMessage = (message: Message, reason: Problem): HostStep => ({
  decoded: { entries: [], rejections: [reject(message, reason)] },
  commands: [],
});

function addressOf(topic: string): Result<Address> | null {
  const [, group = '', type = '', edge = '', device = null, ...rest] = topic.split('/');
  if (group === 'STATE' || COMMANDS.has(type)) return null;
  const messageType = TYPES.find((name) => name === type);
  const wantsDevice = messageType?.startsWith('D') === true;
  if (
    messageType === undefined ||
    group === '' ||
    edge === '' ||
    rest.length > 0 ||
    wantsDevice !== (device !== null)
  )
    return failure('sparkplug-topic');
  const gateway = gatewayId(idOfName(edge));
  return gateway.ok ? success({ group, type: messageType, edge, gateway: gateway.value, device }) : gateway;
}

export class SparkplugHost {
  readonly #nodes = new Map<string, EdgeNode>();
  /** The node of each gateway that is online, which is named by the node alone. */
  readonly #nodeOf = new Map<string, { readonly key: string; readonly group: string }>();
  readonly #askedAt = new Map<string, EpochMillis>();

  receive(message: Message): HostStep {
    const address = addressOf(message.topic);
    // Commands and states of hosts, our own among them, are not for us.
    if (address === null) return NO_STEP;
    if (!address.ok) return rejectMessage(message, address.problem);
    if (message.delivery === 'retained') return rejectMessage(message, problem('sparkplug-retained'));
    const sized = withinSize(message.payload, MESSAGE_BYTES);
    if (!sized.ok) return rejectMessage(message, sized.problem);
    const payload = sparkplugPayload(sized.value);
    if (!payload.ok) return rejectMessage(message, payload.problem);
    if (payload.value.uuid === 'SPBV1.0_COMPRESSED')
      return rejectMessage(message, problem('sparkplug-compressed'));
    const { type } = address.value;
    if (type === 'NBIRTH') return this.#nodeBirth(message, address.value, payload.value);
    if (type === 'NDEATH') return this.#nodeDeath(message, address.value, payload.value);
    return this.#inSequence(
      { message, type, device: address.value.device, payload: payload.value },
      address.value,
    );
  }

  /** To be called every second or so: gives up messages that did not come. */
  expire(now: EpochMillis): HostStep {
    return joinSteps(
      [...this.#nodes].map(([key, node]) =>
        node.waitingSince !== null && now - node.waitingSince >= REORDER_MILLIS
          ? this.#giveUp(key, node, now)
          : NO_STEP,
      ),
    );
  }

  #nodeBirth(message: Message, { group, edge, gateway }: Address, payload: NodeMessage['payload']): HostStep {
    const { seq } = payload;
    if (seq === null || seq > 255) return rejectMessage(message, problem('sparkplug-no-seq'));
    const key = nodeKey(group, edge);
    const before = this.#nodeOf.get(gateway);
    if (before !== undefined && before.key !== key)
      return rejectMessage(message, problem('sparkplug-node-twice', { node: edge, group: before.group }));
    if (!this.#nodes.has(key) && this.#nodes.size >= MOST_NODES)
      return rejectMessage(message, problem('sparkplug-too-many-nodes', { most: MOST_NODES }));
    const earlier = this.#nodes.get(key);
    const waiting = earlier?.giveUpMissing() ?? [];
    const node = new EdgeNode(gateway, bdSeqOf(payload.metrics), seq);
    this.#nodes.set(key, node);
    this.#nodeOf.set(gateway, { key, group });
    this.#askedAt.delete(key);
    const { entries, rejections } = birthValues(node, message, null, payload);
    const online = { kind: 'gateway', receivedAt: message.receivedAt, gateway, online: true } as const;
    const born = { decoded: { entries: [online, ...entries], rejections }, commands: [] };
    // By their time, because an alias of one session may be another metric in the next.
    const isLast = ({ payload: { timestamp } }: NodeMessage) => (timestamp ?? 0) < (payload.timestamp ?? 0);
    const ahead = waiting.filter((each) => !isLast(each));
    return joinSteps([
      ...(earlier === undefined ? [] : waiting.filter(isLast).map((last) => this.#take(key, earlier, last))),
      born,
      ...ahead
        .flatMap((each) => node.inTurn(each.payload.seq ?? 0, each))
        .map((due) => this.#take(key, node, due)),
    ]);
  }

  #nodeDeath(message: Message, address: Address, { metrics }: NodeMessage['payload']): HostStep {
    const { group, edge, gateway } = address;
    const key = nodeKey(group, edge);
    const node = this.#nodes.get(key);
    // The last will of an earlier connection may come after the birth of the next one.
    const bdSeq = bdSeqOf(metrics);
    if (node !== undefined && bdSeq !== node.bdSeq) return NO_STEP;
    // A node that another one keeps from being born ends nothing of that one.
    const living = this.#nodeOf.get(gateway);
    if (living !== undefined && living.key !== key) return NO_STEP;
    const last = node?.giveUpMissing().map((waiting) => this.#take(key, node, waiting)) ?? [];
    this.#nodeOf.delete(gateway);
    this.#nodes.delete(key);
    const offline = { kind: 'gateway', receivedAt: message.receivedAt, gateway, online: false } as const;
    return joinSteps([...last, { decoded: { entries: [offline], rejections: [] }, commands: [] }]);
  }

  #inSequence(message: NodeMessage, { group, edge }: Address): HostStep {
    const key = nodeKey(group, edge);
    const node = this.#nodes.get(key);
    const { receivedAt } = message.message;
    if (node === undefined)
      return {
        ...rejectMessage(message.message, problem('sparkplug-no-birth', { node: edge })),
        commands: this.#rebirth(key, receivedAt),
      };
    const { seq } = message.payload;
    if (seq === null || seq > 255) return rejectMessage(message.message, problem('sparkplug-no-seq'));
    const steps = node.inTurn(seq, message).map((due) => this.#take(key, node, due));
    if (node.waitingCount > MOST_WAITING) steps.push(this.#giveUp(key, node, receivedAt));
    return joinSteps(steps);
  }

  #giveUp(key: string, node: EdgeNode, now: EpochMillis): HostStep {
    const steps = node.giveUpMissing().map((message) => this.#take(key, node, message));
    return joinSteps([...steps, { decoded: NOTHING, commands: this.#rebirth(key, now) }]);
  }

  #take(key: string, node: EdgeNode, { message, type, device, payload }: NodeMessage): HostStep {
    if (type === 'DBIRTH') {
      node.forget(device);
      return { decoded: birthValues(node, message, device, payload), commands: [] };
    }
    if (type === 'DDEATH') {
      const { gateway } = node;
      const probes = node.probesOf(device);
      node.forget(device);
      if (probes.length === 0) return NO_STEP;
      const gone = { kind: 'probes-gone', receivedAt: message.receivedAt, gateway, probes } as const;
      return { decoded: { entries: [gone], rejections: [] }, commands: [] };
    }
    let isUnknown = false;
    const statuses: GivenStatus[] = [];
    const metrics = payload.metrics.flatMap((metric) => [
      metric,
      ...membersOf(metric, node.templateName(device, metric)),
    ]);
    const given = metrics.flatMap((metric): readonly Result<GivenValue>[] => {
      const meaning = node.meaningOf(device, metric);
      if (meaning === undefined) isUnknown = true;
      else statuses.push(...readStatuses(node, device, meaning, metric, message));
      return meaning === undefined
        ? [failure('sparkplug-unknown-metric', { name: metric.name ?? metric.alias ?? '' })]
        : readValues(meaning, metric, payload.timestamp, message);
    });
    return {
      decoded: collectReadings(message, node.gateway, given, { statuses }),
      commands: isUnknown ? this.#rebirth(key, message.receivedAt) : [],
    };
  }

  #rebirth(key: string, now: EpochMillis): readonly HostCommand[] {
    const before = this.#askedAt.get(key);
    if (before !== undefined && now - before < REBIRTH_MILLIS) return [];
    if (before === undefined && this.#askedAt.size >= MOST_NODES) return [];
    this.#askedAt.set(key, now);
    const [group = '', edge = ''] = key.split('/');
    return [{ topic: `${SPARKPLUG_ROOT}/${group}/NCMD/${edge}`, payload: rebirthCommand(now) }];
  }
}

/** Neither part can hold a slash. */
const nodeKey = (group: string, edge: string): string => `${group}/${edge}`;

function bdSeqOf(metrics: readonly SparkplugMetric[]): number | null {
  const metric = metrics.find(({ name }) => name === 'bdSeq');
  return metric === undefined ? null : metricNumber(metric.value, metric.dataType);
}

function birthValues(
  node: EdgeNode,
  message: Message,
  device: string | null,
  { metrics, timestamp }: NodeMessage['payload'],
): Decoded {
  const learned = metrics
    .flatMap((metric) => [metric, ...membersOf(metric, metric.name)])
    .map((metric) => ({ metric, meaning: node.learn(device, metric) }));
  const given = learned.flatMap(({ metric, meaning }): readonly Result<GivenValue>[] => {
    if (!meaning.ok) return [meaning];
    const { name } = metric;
    if (meaning.value === 'other') return [failure('sparkplug-not-a-temperature', { name: name ?? '' })];
    return meaning.value === 'unread'
      ? [failure('sparkplug-not-a-number', { name: name ?? '' })]
      : readValues(meaning.value, metric, timestamp, message);
  });
  const statuses = learned.flatMap(({ metric, meaning }) =>
    meaning.ok ? readStatuses(node, device, meaning.value, metric, message) : [],
  );
  return collectReadings(message, node.gateway, given, { statuses });
}
