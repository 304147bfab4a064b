import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { advanceClock, type GatewayClock, startClock, steadyLagMillis } from './gateway-clock.ts';

const START = 1_772_611_200_000;
const HOUR = 3_600_000;
const STALE = 90_000;

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
const take = (list: readonly Message[], before?: GatewayClock) => {
  const [first] = list;
  const clock = before ?? startClock(first?.arrives ?? START, first?.instant ?? START);
  return { clock, timings: list.map(({ arrives, instant }) => advanceClock(clock, arrives, instant, STALE)) };
};

describe('the clock of a gateway', () => {
  it('that is right makes live readings and is not corrected', () => {
    const { clock, timings } = take(messages(20, -2000));
    expect(new Set(timings)).toEqual(new Set(['live']));
    expect(clock).toMatchObject({ correction: 0, epoch: 0 });
  });

  it('that is an hour ahead is corrected at once, because nothing can be measured in the future', () => {
    const { clock, timings } = take(messages(3, HOUR));
    expect(timings).toEqual(['live', 'live', 'live']);
    expect(clock.correction).toBe(-HOUR);
  });

  it('that is an hour behind is corrected as soon as three messages kept the pace of arrival', () => {
    const { clock, timings } = take(messages(4, -HOUR));
    expect(timings.slice(2)).toEqual(['live', 'live']);
    expect(timings.slice(0, 1)).toEqual(['undecided']);
    expect(clock.correction).toBe(HOUR);
  });

  it.each([HOUR, -HOUR])(
    'that was off by %i ms and is set right is live at once, in a new epoch',
    (offset) => {
      const { clock } = take(messages(30, offset));
      const { epoch } = clock;
      expect(take(messages(3, 0, 300_000), clock).timings).toEqual(['live', 'live', 'live']);
      expect(clock.correction).toBe(0);
      expect(clock.epoch).toBe(epoch + 1);
    },
  );

  it('is not corrected by a backlog, however it comes', () => {
    // Four hours of readings within two seconds: one probe, and three probes with a message each.
    const burst = Array.from({ length: 1440 }, (_, index) => ({
      arrives: START + index,
      instant: START - 4 * HOUR + index * 10_000,
    })).filter(({ instant }) => instant < START - STALE - 10_000);
    const ofThree = burst.flatMap(({ arrives, instant }) =>
      [0, 1, 2].map((more) => ({ arrives, instant: instant + more })),
    );
    for (const backlog of [burst, ofThree]) {
      const { clock, timings } = take(backlog);
      expect(timings).not.toContain('live');
      expect(clock.correction).toBe(0);
    }
  });

  it('stays right while a backlog comes between live readings', () => {
    const mixed = messages(60, 0).flatMap((live, index) => [
      live,
      { arrives: live.arrives + 1500, instant: START - 2 * HOUR + index * 10_000 },
    ]);
    const { timings } = take(mixed);
    expect(timings.filter((_, index) => index % 2 === 0).every((timing) => timing === 'live')).toBe(true);
    expect(timings.filter((_, index) => index % 2 === 1)).not.toContain('live');
  });

  it('learns nothing from a message that is delivered again', () => {
    const lags = fc.constantFrom(0, 3000, -HOUR, HOUR, 4_000_000);
    const gaps = fc.constantFrom(200, 5000, 10_000, 60_000);
    fc.assert(
      fc.property(fc.array(fc.tuple(gaps, lags), { minLength: 1, maxLength: 40 }), (steps) => {
        let arrives = START;
        const once = steps.map(([gap, lag]) => {
          arrives += gap;
          return { arrives, instant: arrives - lag };
        });
        const twice = once.flatMap((message) => [message, message]);
        const [plain, repeated] = [take(once), take(twice)];
        expect(repeated.clock).toEqual(plain.clock);
        expect(repeated.timings.filter((_, index) => index % 2 === 1)).toEqual(plain.timings);
      }),
    );
  });
});

describe('the steady lag', () => {
  it('is known after ten minutes in which it hardly moved', () => {
    expect(steadyLagMillis(take(messages(60, -HOUR)).clock)).toBeNull();
    expect(steadyLagMillis(take(messages(62, -HOUR)).clock)).toBe(HOUR);
    expect(steadyLagMillis(take(messages(62, HOUR)).clock)).toBe(-HOUR);
    expect(steadyLagMillis(null)).toBeNull();
  });

  it('is not known of messages that catch up', () => {
    const catching = messages(200, 0).map(({ arrives }, index) => ({
      arrives,
      instant: arrives - 4 * HOUR + index * 60_000,
    }));
    expect(steadyLagMillis(take(catching).clock)).toBeNull();
  });
});
