// PUBACKs that wait to be written, for one connection at a time and in one write. One that is due after its
// connection has ended is forgotten: the broker sends the message again, and on a new connection the same packet
// id may belong to another message.

import type { Duplex } from 'node:stream';

type Connection = Pick<Duplex, 'write' | 'destroyed' | 'writable'>;

/** MQTT 5, 3.4: type and length, then the packet id; without a reason code it means success, as in 3.1.1. */
const puback = (messageId: number): Buffer => Buffer.of(0x40, 2, messageId >> 8, messageId & 0xff);

export const heldAcknowledgements = () => {
  let connection: Connection | null = null;
  let due: Buffer[] = [];

  const flush = () => {
    if (connection !== null && due.length > 0 && !connection.destroyed && connection.writable)
      connection.write(Buffer.concat(due));
    due = [];
    connection = null;
  };
  return {
    add: (to: Connection, messageId: number): void => {
      if (connection !== to) {
        flush();
        connection = to;
        // After the commit that is reporting its messages, so that all of them share the write.
        queueMicrotask(flush);
      }
      due.push(puback(messageId));
    },
    flush,
  };
};
