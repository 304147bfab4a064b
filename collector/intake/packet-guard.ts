// Limits on what comes over an MQTT connection, counted before anything of it is kept: the parser behind it gathers a
// packet whole, so a length that nobody would send must end the connection while only its first bytes are here.
// MQTT 3.1.1, 2.2: one byte of type, then the remaining length in one to four bytes of seven bits.

import { Duplex } from 'node:stream';
import { packetRate } from './packet-rate.ts';

/** Client id, will, user and password of a gateway; a will is a word. */
export const CONNECT_LIMIT_BYTES = 8 * 1024;
/**
 * Above what the decoder takes (64 kB, of Sparkplug 512 kB) with the longest topic, so that what is a little too long
 * still lands in quarantine whole.
 */
export const PACKET_LIMIT_BYTES = (512 + 64) * 1024;

const CONNECT = 1;
const LENGTH_BYTES = 4;

export type PacketFault = 'not-a-connect' | 'packet-too-large' | 'bad-length';

/** Returns for each chunk whether the packets that begin in it may come; `onPacket` is called for each of them. */
export function packetSizes(onPacket: () => void = () => {}): (chunk: Uint8Array) => PacketFault | null {
  let isFirst = true;
  /** Of the current packet, without its header. */
  let bytesLeft = 0;
  let header: { readonly type: number; length: number; bytes: number } | null = null;

  const takeHeader = (byte: number): PacketFault | null => {
    if (header === null) {
      header = { type: byte >> 4, length: 0, bytes: 0 };
      return isFirst && header.type !== CONNECT ? 'not-a-connect' : null;
    }
    header.length += (byte & 0x7f) * 128 ** header.bytes;
    header.bytes += 1;
    if ((byte & 0x80) !== 0) return header.bytes === LENGTH_BYTES ? 'bad-length' : null;
    if (header.length > (isFirst ? CONNECT_LIMIT_BYTES : PACKET_LIMIT_BYTES)) return 'packet-too-large';
    bytesLeft = header.length;
    header = null;
    isFirst = false;
    onPacket();
    return null;
  };
  return (chunk) => {
    for (let at = 0; at < chunk.length; ) {
      if (bytesLeft > 0) {
        const taken = Math.min(bytesLeft, chunk.length - at);
        bytesLeft -= taken;
        at += taken;
        continue;
      }
      const fault = takeHeader(chunk[at] ?? 0);
      if (fault !== null) return fault;
      at += 1;
    }
    return null;
  };
}

/**
 * The connection as the broker sees it; one that breaks a limit is ended, and `onFault` gets the limit. One that sends too
 * fast is read more slowly.
 */
export function guardConnection(socket: Duplex, onFault: (fault: PacketFault) => void): Duplex {
  let packets = 0;
  const check = packetSizes(() => {
    packets += 1;
  });
  const waitFor = packetRate();
  let holdTimer: NodeJS.Timeout | null = null;
  const guarded = new Duplex({
    read: () => {
      if (holdTimer === null) socket.resume();
    },
    write: (chunk, encoding, done) => {
      socket.write(chunk, encoding, done);
    },
    writev: (chunks, done) => {
      socket.write(Buffer.concat(chunks.map(({ chunk }) => chunk as Buffer)), done);
    },
    final: (done) => {
      socket.end(done);
    },
    destroy: (error, done) => {
      socket.destroy();
      done(error);
    },
  });
  socket.on('data', (chunk: Buffer) => {
    const fault = check(chunk);
    if (fault !== null) {
      onFault(fault);
      guarded.destroy();
      return;
    }
    const wait = waitFor(packets, performance.now());
    packets = 0;
    if (wait > 0 && holdTimer === null)
      holdTimer = setTimeout(() => {
        holdTimer = null;
        socket.resume();
      }, wait);
    if (!guarded.push(chunk) || holdTimer !== null) socket.pause();
  });
  socket.on('end', () => guarded.push(null));
  socket.on('error', (error) => guarded.destroy(error));
  socket.on('close', () => {
    if (holdTimer !== null) clearTimeout(holdTimer);
    guarded.destroy();
  });
  return guarded;
}
