// How fast packets of one connection are read: a bucket that fills evenly, so that a backlog passes and a faulty
// device neither fills the disk nor holds up the others. It drops nothing: what is too fast is read later. Pure bookkeeping.

export interface PacketRate {
  readonly perSecond: number;
  /** Read at once, however fast they arrive. */
  readonly burst: number;
}

/** Thirty probes are three packets a second; a gateway that sends its past, ten. */
export const PACKET_RATE: PacketRate = { perSecond: 1000, burst: 5000 };

const MILLIS_PER_SECOND = 1000;

/**
 * Returns for each number of packets that came, at an instant of an even clock in milliseconds, for how long no more are
 * to be read.
 * @example
 * const wait = packetRate({ perSecond: 10, burst: 20 });
 * wait(20, 0); // 0
 * wait(5, 0); // 500: five packets take half a second to be made good
 */
export function packetRate({
  perSecond,
  burst,
}: PacketRate = PACKET_RATE): (packets: number, at: number) => number {
  let [left, since] = [burst, 0];
  return (packets, at) => {
    left = Math.min(burst, left + ((at - since) / MILLIS_PER_SECOND) * perSecond) - packets;
    since = at;
    return left >= 0 ? 0 : (-left / perSecond) * MILLIS_PER_SECOND;
  };
}
