// Decodes what arrives, whichever root its topic has, and queues what came of it for the journal.

import { epochMillis } from '../../wax/units.ts';
import { decodeMessage } from '../decode/decode-message.ts';
import { decodeMapped } from '../decode/mapped-json.ts';
import type { Decoded, Message } from '../decode/message.ts';
import { rejectionEntries } from '../decode/rejection.ts';
import { type HostCommand, SPARKPLUG_ROOT, SparkplugHost } from '../decode/sparkplug/host.ts';
import type { Entry } from '../../lab/entry.ts';
import type { PayloadMapping } from '../../lab/database/payload-mapping.ts';
import { arrivalInstants } from './arrival-instants.ts';

export interface DecodedSink {
  /** `decoded` as entries of the journal, and how many parts of it were refused. */
  readonly add: (entries: readonly Entry[], rejected: number, committed: () => void) => void;
  readonly send: (command: HostCommand) => void;
}

const EXPIRY_MILLIS = 1000;

export interface MessageDecoder {
  readonly receive: (message: Message, committed: () => void) => void;
  readonly map: (mappings: readonly PayloadMapping[]) => void;
  readonly stop: () => void;
}

export const messageDecoder = (sink: DecodedSink): MessageDecoder => {
  const host = new SparkplugHost();
  const apart = arrivalInstants();
  let mappings: readonly PayloadMapping[] = [];
  const entriesOf = ({ entries, rejections }: Decoded): readonly Entry[] =>
    rejections.length === 0 ? apart(entries) : [...apart(entries), ...rejectionEntries(rejections)];
  const timer = setInterval(() => {
    const { decoded, commands } = host.expire(epochMillis(Date.now()));
    if (decoded.entries.length + decoded.rejections.length > 0)
      sink.add(entriesOf(decoded), decoded.rejections.length, () => {});
    for (const command of commands) sink.send(command);
  }, EXPIRY_MILLIS);
  return {
    receive: (message, committed) => {
      const isSparkplug = message.topic.startsWith(`${SPARKPLUG_ROOT}/`);
      const { decoded, commands } = isSparkplug
        ? host.receive(message)
        : { decoded: decodeMapped(message, mappings) ?? decodeMessage(message), commands: [] };
      sink.add(entriesOf(decoded), decoded.rejections.length, committed);
      for (const command of commands) sink.send(command);
    },
    map: (given) => {
      mappings = given;
    },
    stop: () => clearInterval(timer),
  };
};
