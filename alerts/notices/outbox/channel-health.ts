// Whether a channel works, by the last tries of each of its addresses: a receiver that fails is not hidden by another one
// that works beside it. Reported when it changes, and once after a start: an alarm may be open from before.

import { FAILING_AFTER_TRIES } from './delivery.ts';
import { CHANNELS, type Channel, type OutboxRow } from './outbox-row.ts';
import { type SendAnswer, sendAnswer } from './send-answer.ts';

/** `address` is one that fails, or the last that did. */
export type ReportChannel = (channel: Channel, works: boolean, answer: SendAnswer, address: string) => void;

type Line = Pick<OutboxRow, 'channel' | 'address'>;

export interface ChannelHealth {
  readonly worked: (line: Line, answer: SendAnswer) => void;
  readonly failed: (line: Line, answer: SendAnswer) => void;
  /** What is refused once is refused every time: it is reported at once. */
  readonly refused: (line: Line, answer: SendAnswer) => void;
  /** Forgets addresses to which nothing goes any more. `used` is called only where there is something to forget. */
  readonly keep: (used: (channel: Channel) => readonly string[]) => void;
  readonly isFailing: (channel: Channel, address: string) => boolean;
}

interface Tries {
  readonly address: string;
  /** In a row without a success. */
  readonly count: number;
  readonly answer: SendAnswer;
}

/** Each change of an alarm has a topic of its own at one broker. */
export const MQTT_ADDRESS = '';
const keyOf = ({ channel, address }: Line): string => (channel === 'mqtt' ? MQTT_ADDRESS : address);
const fails = ({ count }: Tries): boolean => count >= FAILING_AFTER_TRIES;

export function channelHealth(report: ReportChannel): ChannelHealth {
  const failures = new Map<Channel, ReadonlyMap<string, Tries>>();
  /** The failing address that was reported last, null for none; no entry before the first report. */
  const reported = new Map<Channel, string | null>();
  const triesOf = (channel: Channel) => failures.get(channel) ?? new Map<string, Tries>();
  const reportChange = (channel: Channel, last: Pick<Tries, 'address' | 'answer'>): void => {
    const failing = [...triesOf(channel).values()].find(fails);
    const address = failing?.address ?? null;
    if (reported.get(channel) === address) return;
    reported.set(channel, address);
    const { answer, address: named } = failing ?? last;
    report(channel, failing === undefined, answer, named);
  };
  const count = (line: Line, least: number, answer: SendAnswer): void => {
    const address = keyOf(line);
    const tries = triesOf(line.channel);
    const next = { address, count: Math.max((tries.get(address)?.count ?? 0) + 1, least), answer };
    failures.set(line.channel, new Map(tries).set(address, next));
    if (fails(next)) reportChange(line.channel, next);
  };
  return {
    worked: (line, answer) => {
      const address = keyOf(line);
      const left = [...triesOf(line.channel)].filter(([key]) => key !== address);
      failures.set(line.channel, new Map(left));
      reportChange(line.channel, { address, answer });
    },
    failed: (line, answer) => count(line, 1, answer),
    refused: (line, answer) => count(line, FAILING_AFTER_TRIES, answer),
    keep: (used) => {
      for (const channel of CHANNELS) {
        const tries = triesOf(channel);
        if (reported.has(channel) && tries.size === 0) continue;
        const addresses = used(channel);
        const left = new Map([...tries].filter(([address]) => addresses.includes(address)));
        failures.set(channel, left);
        const dropped = [...tries.values()].find(({ address }) => !left.has(address));
        if (dropped !== undefined || addresses.length === 0)
          reportChange(channel, dropped ?? { address: '', answer: sendAnswer('no-address') });
      }
    },
    isFailing: (channel, address) => {
      const tries = triesOf(channel).get(keyOf({ channel, address }));
      return tries !== undefined && fails(tries);
    },
  };
}
