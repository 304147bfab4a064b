import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { PACKET_RATE, packetRate } from './packet-rate.ts';

const RATE = { perSecond: 10, burst: 20 };

describe('the packets of one connection', () => {
  it('are read at once up to the burst, and those beyond it after a while', () => {
    const wait = packetRate(RATE);
    expect(wait(20, 0)).toBe(0);
    expect(wait(5, 0)).toBe(500);
    expect(wait(0, 500)).toBe(0);
    expect(wait(10, 1500)).toBe(0);
  });

  it('of a gateway that sends its past are never held up', () => {
    const wait = packetRate(PACKET_RATE);
    for (let at = 0; at < 60_000; at += 100) expect(wait(1, at)).toBe(0);
  });

  it('are read no faster in all than the burst and the rate allow, where the wait is kept', () => {
    const arrivals = fc.array(fc.record({ packets: fc.nat(50), pause: fc.nat(3000) }), { minLength: 1 });
    fc.assert(
      fc.property(arrivals, (chunks) => {
        const wait = packetRate(RATE);
        let [at, read] = [0, 0];
        for (const { packets, pause } of chunks) {
          at += pause;
          expect(read).toBeLessThanOrEqual(RATE.burst + (at / 1000) * RATE.perSecond + 1e-6);
          read += packets;
          at += wait(packets, at);
        }
      }),
    );
  });
});
