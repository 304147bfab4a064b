// How many connections the web server holds, in all and from one address, so that no machine of the network fills the memory
// or takes the room of the others. A proxy that is trusted brings everybody and is held to the first alone.

import { BlockList, isIPv4, isIPv6, type Server, type Socket } from 'node:net';

interface ConnectionRoom {
  readonly inAll: number;
  readonly ofOneAddress: number;
}

/** A browser opens six to a server, a computer with all its tabs and tools some dozens. Our figures. */
const CONNECTION_ROOM: ConnectionRoom = { inAll: 1000, ofOneAddress: 200 };

const familyOf = (address: string): 'ipv4' | 'ipv6' => (isIPv6(address) ? 'ipv6' : 'ipv4');

/** Of addresses and ranges such as `10.0.0.0/8`. */
function listOf(ranges: readonly string[]): BlockList {
  const list = new BlockList();
  for (const range of ranges) {
    const [address = '', bits] = range.split('/');
    if (bits === undefined) list.addAddress(address, familyOf(address));
    else list.addSubnet(address, Number(bits), familyOf(address));
  }
  return list;
}

/** An IPv4 address as it is, also where the system writes it as one of IPv6. */
const plainAddress = ({ remoteAddress = '' }: Socket): string => {
  const mapped = remoteAddress.replace(/^::ffff:/i, '');
  return isIPv4(mapped) ? mapped : remoteAddress;
};

/** Ends at once what is beyond the limits. */
export function limitConnections(
  server: Server,
  trustedProxies: readonly string[],
  { inAll, ofOneAddress }: ConnectionRoom = CONNECTION_ROOM,
): void {
  const proxies = listOf(trustedProxies);
  const counts = new Map<string, number>();
  server.maxConnections = inAll;
  server.on('connection', (socket: Socket) => {
    const address = plainAddress(socket);
    if (address === '' || proxies.check(address, familyOf(address))) return;
    const before = counts.get(address) ?? 0;
    if (before >= ofOneAddress) {
      socket.destroy();
      return;
    }
    counts.set(address, before + 1);
    socket.once('close', () => {
      const left = (counts.get(address) ?? 1) - 1;
      if (left === 0) counts.delete(address);
      else counts.set(address, left);
    });
  });
}
