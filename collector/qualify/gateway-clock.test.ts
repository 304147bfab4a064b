// What messages show of their gateway's clock: right, wrong in every way, and backlogs that must not pass for one.

import { describe, expect, it } from 'vitest';
import { type GatewayClock, isUnsteady, newClock, readClock, steadyLagMillis } from './gateway-clock.ts';

const START = 1_772_611_200_000;
const HOUR = 3_600_000;
/** A message may be delayed by so much. */
const LIVE = 90_000;

interface Message {
  readonly arrives: number;
  readonly instant: number;
}
/** Ten seconds apart, stamped by a clock that is off by `offset`. */
const messages = (count: number, offset: number, from = 0): readonly Message[] =>
  Array.from({ length: count }, (_, index) => {
    const arrives = START + from + index * 10_000;
    return { arrives, instant: arrives + offset };
  });
const take = (list: readonly Message[], before: GatewayClock = newClock()) => {
  let clock = before;
  const timings = list.map(({ arrives, instant }) => {
    const step = readClock(clock, arrives, instant);
    clock = step.clock;
    return step.timing;
  });
  return { clock, timings };
};
const live = (count: number) => Array(count).fill('live');

describe('the clock of a gateway', () => {
  it('that is right makes live readings and is not corrected', () => {
    const { clock, timings } = take(messages(20, -2000));
    expect(timings).toEqual(live(20));
    expect(clock.offset).toBe(0);
  });

  it.each([HOUR, 24 * HOUR, 600_000])(
    'that is %i ms ahead is corrected at once, because nothing can be measured in the future',
    (ahead) => {
      const { clock, timings } = take(messages(3, ahead));
      expect(timings).toEqual(live(3));
      expect(Math.abs((clock.offset ?? 0) + ahead)).toBeLessThan(2000);
    },
  );

  it.each([HOUR, 24 * HOUR, 600_000])(
    'that is %i ms behind is corrected as soon as two messages kept the pace of arrival',
    (behind) => {
      const { clock, timings } = take(messages(4, -behind));
      expect(timings).toEqual(['past', ...live(3)]);
      expect(Math.abs((clock.offset ?? 0) - behind)).toBeLessThan(2000);
    },
  );

  /** Four probes read each second, one after the other. */
  const busy = (seconds: number, offset: number, from = 0, millisApart = 250): readonly Message[] =>
    Array.from({ length: 4 * seconds }, (_, index) => ({
      arrives: START + from + index * millisApart,
      instant: START + from + index * 250 + offset,
    }));
  it.each([
    ['has always been', null],
    ['was right before and is', 0],
    ['was ahead before and is', HOUR],
  ])(
    'that %s half an hour behind is corrected within two seconds where messages never pause',
    (_, earlier) => {
      const before = earlier === null ? undefined : take(busy(60, earlier, -60_000)).clock;
      const { clock, timings } = take(busy(10, -HOUR / 2), before);
      expect(timings.slice(8)).toEqual(live(32));
      expect(Math.abs((clock.offset ?? 0) - HOUR / 2)).toBeLessThan(2000);
    },
  );

  it.each([HOUR, -HOUR])(
    'that was %i ms off is known to be right within two seconds where messages never pause',
    (off) => {
      const { clock, timings } = take(busy(10, 0), take(busy(60, off, -60_000)).clock);
      expect(timings.slice(8)).toEqual(live(32));
      expect(clock.offset).toBe(0);
    },
  );

  it('is not corrected by a backlog of probes that are read each second', () => {
    const { clock } = take(busy(60, 0, -60_000));
    expect(take(busy(600, -HOUR, 0, 5), clock).timings).not.toContain('live');
  });

  /** Half a minute by each clock in turn. */
  const jumping = (...offsets: readonly number[]) =>
    offsets.flatMap((offset, index) => messages(5, offset, index * 50_000));

  it('that jumps three times within an hour is unsteady, whichever way it jumps', () => {
    expect(isUnsteady(take(jumping(0, HOUR, -HOUR, 600_000)).clock)).toBe(true);
    expect(isUnsteady(take(jumping(0, -HOUR, -2 * HOUR, -HOUR)).clock)).toBe(true);
    expect(isUnsteady(take(jumping(0, HOUR, 0)).clock)).toBe(false);
  });
  it('that jumped is steady again after an hour', () => {
    const { clock } = take(jumping(0, HOUR, -HOUR, 0));
    expect(isUnsteady(take(messages(340, 0, 200_000), clock).clock)).toBe(true);
    expect(isUnsteady(take(messages(370, 0, 200_000), clock).clock)).toBe(false);
  });
  it('that drifts by seconds and is set does not jump', () => {
    expect(isUnsteady(take(jumping(0, 20_000, -20_000, 20_000, 0, 30_000)).clock)).toBe(false);
  });

  it('that was never set is corrected at once', () => {
    const { clock, timings } = take(messages(3, 5000 - START));
    expect(timings).toEqual(live(3));
    expect(Math.abs((clock.offset ?? 0) - START + 5000)).toBeLessThan(2000);
  });

  it.each([HOUR, -HOUR])('that was off by %i ms and is set right is live at once', (offset) => {
    const { clock } = take(messages(30, offset));
    const right = take(messages(3, 0, 300_000), clock);
    expect(right.timings).toEqual(live(3));
    expect(right.clock.offset).toBe(0);
  });

  it.each([8000, 20_000, 48_000])('that was %i ms ahead and is set right is corrected no more', (ahead) => {
    const { clock } = take(messages(30, ahead));
    const right = take(messages(3, 0, 300_000), clock);
    expect(right.timings).toEqual(live(3));
    expect(right.clock.offset).toBe(0);
  });

  it('that is 75 s behind is live, and corrected with its fifth message, as its values would be taken for stale', () => {
    expect(take(messages(4, -75_000)).clock.offset).toBe(0);
    const { clock, timings } = take(messages(5, -75_000));
    expect(timings).toEqual(live(5));
    expect(Math.abs((clock.offset ?? 0) - 75_000)).toBeLessThan(2000);
  });

  it('is not corrected by a network that delays each message by up to a minute and a half', () => {
    const delays = [70, 35, 82, 44, 88, 61, 33, 79, 52, 85, 40, 66];
    const delayed = delays.map((delay, index) => ({
      arrives: START + index * 60_000 + delay * 1000,
      instant: START + index * 60_000,
    }));
    expect(take(delayed)).toMatchObject({ timings: live(12), clock: { offset: 0 } });
  });

  it.each([HOUR, -HOUR])(
    'that is right and is set to %i ms off is live with its second message',
    (offset) => {
      const { clock } = take(messages(30, 0));
      const wrong = take(messages(3, offset, 300_000), clock);
      expect(wrong.timings.slice(1)).toEqual(live(2));
      expect(Math.abs((wrong.clock.offset ?? 0) + offset)).toBeLessThan(2000);
    },
  );

  it('that stands still is taken by arrival from its third message on', () => {
    const still = messages(6, 0).map(({ arrives }) => ({ arrives, instant: START - HOUR }));
    expect(take(still).timings).toEqual(['past', 'past', ...live(4)]);
    const { clock } = take(still);
    expect(clock.offset).toBe(50_000 + HOUR);
  });

  it('that runs by no law is taken by arrival after half a minute', () => {
    const lawless = [3, 9, 2, 7, 5, 8].map((hours, index) => ({
      arrives: START + index * 10_000,
      instant: START - hours * HOUR,
    }));
    expect(take(lawless).timings).toEqual(['past', 'past', 'past', 'live', 'live', 'past']);
  });

  it('is not corrected by a backlog, however it comes', () => {
    // Four hours of readings within two seconds: one probe, and three probes with a message each.
    const burst = Array.from({ length: 1440 }, (_, index) => ({
      arrives: START + index,
      instant: START - 4 * HOUR + index * 10_000,
    })).filter(({ instant }) => instant < START - LIVE - 10_000);
    const ofThree = burst.flatMap(({ arrives, instant }) =>
      [0, 1, 2].map((more) => ({ arrives, instant: instant + more })),
    );
    const newestFirst = burst.map(({ arrives }, index) => ({
      arrives,
      instant: burst.at(-1 - index)?.instant ?? START,
    }));
    for (const backlog of [burst, ofThree, newestFirst])
      for (const offset of [0, HOUR, -HOUR]) {
        const { clock } = take(messages(30, offset, -300_000));
        const shifted = backlog.map(({ arrives, instant }) => ({ arrives, instant: instant + offset }));
        const after = take(shifted, clock);
        expect(after.timings).not.toContain('live');
        expect(after.clock.offset).toBe(clock.offset);
      }
  });

  it.each([0, HOUR])('is not corrected by a pause within a backlog, with its clock %i ms off', (offset) => {
    const { clock } = take(messages(30, offset, -300_000));
    // A reading a second, sent in milliseconds, with pauses as long as a reading is apart from the next.
    const paused = Array.from({ length: 4000 }, (_, index) => ({
      arrives: START + index + 1200 * Math.floor(index / 500),
      instant: START - 30 * 24 * HOUR + offset + index * 1000,
    }));
    for (const before of [undefined, clock]) {
      const { timings } = before === undefined ? take(paused) : take(paused, before);
      expect(timings).not.toContain('live');
    }
  });

  it.each([HOUR, 600_000, -HOUR])(
    'that was %i ms off and is set right leaves its old backlog past, moved by what it was off then',
    (offset) => {
      const { clock } = take(messages(30, offset, -600_000));
      const right = take(messages(3, 0, 0), clock);
      // Five minutes in which nothing came through, by the wrong clock.
      const backlog = Array.from({ length: 30 }, (_, index) => ({
        arrives: START + 25_000 + 20 * index,
        measured: START - 300_000 + index * 10_000,
      }));
      let { clock: after } = right;
      for (const { arrives, measured } of backlog) {
        const step = readClock(after, arrives, measured + offset);
        expect(step.timing).toBe('past');
        expect(Math.abs(offset + step.offset)).toBeLessThan(2000);
        after = step.clock;
      }
      const now = take(messages(3, 0, 30_000), after);
      expect(now).toMatchObject({ timings: live(3), clock: { offset: 0 } });
    },
  );
  it('stays right while a backlog comes between live readings', () => {
    const mixed = messages(60, 0).flatMap((message, index) => [
      message,
      { arrives: message.arrives + 1500, instant: START - 2 * HOUR + index * 10_000 },
    ]);
    const { timings } = take(mixed);
    expect(timings.filter((_, index) => index % 2 === 0)).toEqual(live(60));
    expect(timings.filter((_, index) => index % 2 === 1)).not.toContain('live');
  });
});

describe('the steady lag', () => {
  it('is known after ten minutes in which it hardly moved', () => {
    expect(steadyLagMillis(take(messages(60, -HOUR)).clock)).toBeNull();
    expect(steadyLagMillis(take(messages(62, -HOUR)).clock)).toBe(HOUR);
    expect(steadyLagMillis(take(messages(62, HOUR)).clock)).toBe(-HOUR);
    expect(steadyLagMillis(newClock())).toBeNull();
  });

  it('is not known of messages that catch up', () => {
    const catching = messages(200, 0).map(({ arrives }, index) => ({
      arrives,
      instant: arrives - 4 * HOUR + index * 60_000,
    }));
    expect(steadyLagMillis(take(catching).clock)).toBeNull();
  });
});
