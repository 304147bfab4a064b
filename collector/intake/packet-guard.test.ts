import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { connectionCounts } from './connection-limits.ts';
import { CONNECT_LIMIT_BYTES, PACKET_LIMIT_BYTES, packetSizes } from './packet-guard.ts';

/** A header that claims so many bytes, as an attacker sends it. */
const claim = (type: number, bytes: number): Buffer => {
  const digits: number[] = [];
  let rest = bytes;
  do {
    digits.push((rest % 128) + (rest >= 128 ? 128 : 0));
    rest = Math.floor(rest / 128);
  } while (rest > 0);
  return Buffer.of(type << 4, ...digits);
};

const text = (value: string): Buffer => {
  const bytes = Buffer.from(value);
  return Buffer.concat([Buffer.of(bytes.length >> 8, bytes.length & 0xff), bytes]);
};
const packet = (type: number, body: Buffer): Buffer => Buffer.concat([claim(type, body.length), body]);
/** MQTT 3.1.1, clean session, keep alive 60 s. */
const CONNECT = packet(1, Buffer.concat([text('MQTT'), Buffer.of(4, 2, 0, 60), text('gw')]));
const publish = (bytes: number): Buffer =>
  packet(3, Buffer.concat([text('wax/lab/gw/senml'), Buffer.alloc(bytes)]));

describe('the sizes of MQTT packets', () => {
  it('let through what gateways send, however the network cuts it', () => {
    const stream = Buffer.concat([
      CONNECT,
      publish(0),
      publish(1),
      publish(200),
      publish(20_000),
      Buffer.of(0xc0, 0),
    ]);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 5000 }), { maxLength: 40 }), (cuts) => {
        const check = packetSizes();
        let at = 0;
        for (const cut of [...cuts, stream.length]) {
          expect(check(stream.subarray(at, at + cut))).toBeNull();
          at += cut;
        }
      }),
    );
  });

  it.each([
    ['a CONNECT that claims 90 MB', claim(1, 90_000_000)],
    ['a CONNECT one byte above the limit', claim(1, CONNECT_LIMIT_BYTES + 1)],
    ['a PUBLISH one byte above the limit', Buffer.concat([CONNECT, claim(3, PACKET_LIMIT_BYTES + 1)])],
    [
      'a PUBLISH of 256 MB, the most that the protocol knows',
      Buffer.concat([CONNECT, claim(3, 268_435_455)]),
    ],
  ])('refuse %s with its header alone', (_, bytes) => {
    expect(packetSizes()(bytes)).toBe('packet-too-large');
  });

  it('refuse a connection that does not begin with CONNECT, and a length of more than four bytes', () => {
    expect(packetSizes()(publish(1))).toBe('not-a-connect');
    expect(packetSizes()(Buffer.from('GET / HTTP/1.1\r\n'))).toBe('not-a-connect');
    expect(packetSizes()(Buffer.of(0x10, 0xff, 0xff, 0xff, 0xff, 1))).toBe('bad-length');
  });

  it('count the packet of exactly the limit as one that may come', () => {
    expect(packetSizes()(Buffer.concat([CONNECT, claim(3, PACKET_LIMIT_BYTES)]))).toBeNull();
  });
});

describe('connections to the embedded broker', () => {
  const limits = { inAll: 6, fromOneAddress: 4, unsigned: 3, unsignedFromOneAddress: 3 };
  const open = (count: number, counts: ReturnType<typeof connectionCounts>, address = '10.0.0.1') =>
    Array.from({ length: count }, () => {
      const connection = {};
      return { connection, isOpen: counts.open(connection, address) };
    });

  it('that have not signed in leave room as they sign in or end', () => {
    const counts = connectionCounts(limits);
    const [first, , third] = open(3, counts);
    expect(open(1, counts)[0]?.isOpen).toBe(false);
    counts.signedIn(first?.connection ?? {});
    counts.closed(third?.connection ?? {});
    expect(open(3, counts).map(({ isOpen }) => isOpen)).toEqual([true, true, false]);
  });

  it('of one address do not take the places of another', () => {
    const counts = connectionCounts({ ...limits, unsigned: 99, unsignedFromOneAddress: 99 });
    expect(open(5, counts).filter(({ isOpen }) => isOpen)).toHaveLength(4);
    expect(open(3, counts, '10.0.0.2').filter(({ isOpen }) => isOpen)).toHaveLength(2);
  });

  it.each([
    ['2001:db8:0:1::2', '2001:db8:0:1:ffff::3', '2001:db8:0:2::2'],
    ['2001:db8::1', '2001:db8::2:0:0:1', '2001:db8:1::1'],
    ['fe80::1%eth0', 'fe80::2:3:4:5', '::1'],
    ['10.0.0.1', '::ffff:10.0.0.1', '::ffff:10.0.0.2'],
  ])('of %s and %s are those of one sender, those of %s are not', (first, second, other) => {
    const counts = connectionCounts({ ...limits, unsignedFromOneAddress: 1 });
    expect([first, second, other].map((address) => open(1, counts, address)[0]?.isOpen)).toEqual([
      ...[true, false, true],
    ]);
  });

  it('of one address that never sign in leave room for others to sign in', () => {
    const counts = connectionCounts({ ...limits, unsignedFromOneAddress: 2 });
    expect(open(3, counts).map(({ isOpen }) => isOpen)).toEqual([true, true, false]);
    expect(open(1, counts, '10.0.0.2')[0]?.isOpen).toBe(true);
  });
});
