// What work and the end of the day do to a heater in good order, each beside the fault that looks nearly the same.

import { describe, expect, it } from 'vitest';
import { begun, every, HOUR, run } from '../../../tests/pot-runs.ts';
import { dipPot, labOf, probeOf, waterBath } from '../../../tests/rehearsal.ts';

const swing =
  (middle: number, kelvins: number, periodSeconds: number) =>
  (second: number): number =>
    middle + kelvins * (1 - 4 * Math.abs(((second / periodSeconds) % 1) - 0.5));

describe('a pot that falls from its usual band', () => {
  it.each([
    { what: 'to where its heater keeps up with dipping', to: 83, hours: 0.4, raised: false },
    { what: 'towards the room', to: 22, hours: 1.5, raised: true },
  ])('$what within some time constants of $hours h has no heat: $raised', ({ to, hours, raised }) => {
    const entries = every(10, 0, 6 * HOUR, (second) => {
      const since = (second - 5 * HOUR) / HOUR;
      return since < 0 ? swing(90, 1, 400)(second) : to + (89 - to) * Math.exp(-since / hours);
    });
    expect(begun(entries).includes('no-heat')).toBe(raised);
  });
});

describe('a pot whose wax freezes at work', () => {
  /** 90 °C until it falls by so many kelvins an hour down to where it lies flat, below the melting range of its wax. */
  const sinking = (kelvinsPerHour: number) =>
    every(10, 0, 8 * HOUR, (second) => {
      const since = (second - 2 * HOUR) / HOUR;
      return since < 0 ? swing(90, 1, 400)(second) : Math.max(66 - since / 10, 89 - kelvinsPerHour * since);
    });
  it.each([
    { kelvinsPerHour: 6, raised: false },
    { kelvinsPerHour: 40, raised: true },
  ])('after it fell by $kelvinsPerHour K an hour has no heat: $raised', ({ kelvinsPerHour, raised }) => {
    expect(begun(sinking(kelvinsPerHour)).includes('no-heat')).toBe(raised);
  });
});

describe('a pot that is not switched on in the morning beside one that is on around the clock', () => {
  const lab = labOf(
    [dipPot, { ...dipPot, id: 'pot-2', name: 'Pot 2' }],
    [probeOf('p1', 'pot-1'), probeOf('p2', 'pot-2')],
  );
  const [on, off, day] = [HOUR, 7 * HOUR, 24 * HOUR];
  const daily = (second: number) =>
    second < off ? Math.min(90, 20 + Math.max(0, second - on) / 28) : Math.max(20, 90 - (second - off) / 60);
  it.each([
    { what: 'nobody works', kelvins: 0, raised: false },
    { what: 'cold wax is added', kelvins: 12, raised: true },
  ])('at which $what lacks heat: $raised', ({ kelvins, raised }) => {
    const addedAt = day + on;
    const always = (second: number) =>
      swing(90, 1, 400)(second) - (second < addedAt ? 0 : kelvins * Math.exp(-(second - addedAt) / 600));
    const entries = [
      ...every(60, 0, day + 3 * HOUR, daily, 'p1'),
      ...every(60, 20, day + 3 * HOUR, always, 'p2'),
    ].sort((a, b) => a.receivedAt - b.receivedAt);
    const { findings } = run(entries, lab);
    expect(findings.some(({ rule, subject }) => rule === 'no-heat' && subject === 'pot-1')).toBe(raised);
  });
});

describe('a pot in proportional control that creeps above where it stood for hours', () => {
  it.each([
    { kelvinsPerHour: 2.5, raised: false },
    { kelvinsPerHour: 20, raised: true },
  ])('by $kelvinsPerHour K an hour runs away: $raised', ({ kelvinsPerHour, raised }) => {
    const entries = every(
      10,
      0,
      7 * HOUR,
      (second) =>
        88 + 0.02 * Math.sin(second / 20) + (kelvinsPerHour * Math.max(0, second - 5 * HOUR)) / HOUR,
    );
    const rules = begun(entries);
    expect(rules.includes('runaway') || rules.includes('heading-over')).toBe(raised);
  });
});

describe('a pot in proportional control whose set point is turned up', () => {
  const turned = (kelvins: number) =>
    every(10, 0, 6 * HOUR, (second) => {
      const since = Math.max(0, second - 5 * HOUR);
      return 88 + 0.02 * Math.sin(second / 20) + kelvins * (1 - Math.exp(-since / 240));
    });
  it.each([
    { kelvins: 2.4, raised: false },
    { kelvins: 4, raised: true },
  ])('by $kelvins K nears that within minutes and runs away: $raised', ({ kelvins, raised }) => {
    const rules = begun(turned(kelvins));
    expect(rules.includes('runaway') || rules.includes('heading-over')).toBe(raised);
  });
});

describe('a bath', () => {
  const bath = labOf([waterBath], [probeOf('p1', 'pot-1')]);
  it.each([
    { minutes: 90, raised: true },
    { minutes: 40, raised: false },
  ])('whose probe falls to 22 °C $minutes min before closing has it out: $raised', ({ minutes, raised }) => {
    const fallsAt = 9 * HOUR - 60 * minutes;
    const entries = every(20, 0, 9 * HOUR, (second) =>
      second < fallsAt ? swing(47, 0.4, 400)(second) : 22 + 25 * Math.exp(-(second - fallsAt) / 20),
    );
    expect(begun(entries, bath).includes('probe-out')).toBe(raised);
  });
  it('that hot water warms by 7 K does not drift', () => {
    const entries = every(20, 0, 6 * HOUR, (second) => {
      const since = second - 5 * HOUR;
      const poured = since < 0 ? 0 : Math.min(1, since / 60) * Math.exp(-since / 2000);
      return swing(47, 0.4, 400)(second) + 7 * poured;
    });
    expect(begun(entries, bath)).not.toContain('bath-drift');
  });
  describe.each([10, 60])('that is read each %i s', (seconds) => {
    const pouredAt = 5 * HOUR + 120;
    /** Kelvins above where it was, by the seconds since. */
    const from = (rise: (since: number) => number) =>
      every(seconds, 0, 5.7 * HOUR, (second) => {
        const celsius = swing(47, 0.4, 400)(Math.min(second, pouredAt));
        return celsius + rise(Math.max(0, second - pouredAt));
      });
    it('does not run away when hot water warms it by 5 K', () => {
      const rules = begun(
        from((since) => 5 * (1 - Math.exp(-since / 30)) * Math.exp(-since / 2000)),
        bath,
      );
      expect(rules.filter((rule) => ['runaway', 'heading-over'].includes(rule))).toEqual([]);
    });
    it('runs away when it goes on rising by 0.6 K a minute', () => {
      expect(
        begun(
          from((since) => since / 100),
          bath,
        ),
      ).toContain('runaway');
    });
  });
});
