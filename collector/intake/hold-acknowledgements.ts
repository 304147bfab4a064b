// PUBACKs that wait to be written, for one connection at a time and in one write. One that is due after its
// connection has ended is forgotten: the broker sends the message again, and on a new connection the same packet
// id may belong to another message.

import type { Duplex } from 'node:stream';
import type { IPublishPacket } from 'mqtt';

type Connection = Pick<Duplex, 'write' | 'destroyed' | 'writable'>;

/** MQTT 5, 3.4: type and length, then the packet id; without a reason code it means success, as in 3.1.1. */
const PUBACK = 0x40_02_00_00;
const PUBACK_BYTES = 4;

function pubacks(messageIds: readonly number[]): Buffer {
  const bytes = Buffer.allocUnsafe(PUBACK_BYTES * messageIds.length);
  for (const [index, messageId] of messageIds.entries())
    bytes.writeUInt32BE(PUBACK + messageId, PUBACK_BYTES * index);
  return bytes;
}

export const holdAcknowledgements = () => {
  let connection: Connection | null = null;
  let due: number[] = [];

  const flush = () => {
    if (connection !== null && due.length > 0 && !connection.destroyed && connection.writable)
      connection.write(pubacks(due));
    due = [];
    connection = null;
  };
  const add = (to: Connection, messageId: number): void => {
    if (connection !== to) {
      flush();
      connection = to;
      // After the commit that is reporting its messages, so that all of them share the write.
      queueMicrotask(flush);
    }
    due.push(messageId);
  };
  return {
    add,
    /** What acknowledges the message. It holds nothing else of it, as a thousand wait for each commit. */
    of:
      (to: Connection, { messageId, qos }: Pick<IPublishPacket, 'messageId' | 'qos'>) =>
      (): void => {
        if (qos > 0 && messageId !== undefined) add(to, messageId);
      },
    flush,
  };
};
