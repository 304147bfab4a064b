// A probe that is off by more than it should be where its pot is at rest: at work nothing shows that.

import { describe, expect, it } from 'vitest';
import { clock, every, HOUR } from '../../../tests/figure-traces/trace.ts';
import { dipPot, labOf, probeOf, shelf } from '../../../tests/rehearsal.ts';
import { waxWatch } from '../wax-watch.ts';

const lab = labOf([dipPot, shelf], [probeOf('p1', 'pot-1'), probeOf('r1', 'shelf-1')]);
const DAY = 24 * HOUR;

/** At work from eight to six, cooled down by nine; it reads `off` too much from the third evening on. */
const pot =
  (off: number) =>
  (second: number): number => {
    const hour = (second / HOUR + 9) % 24;
    const wrong = second > clock(2, 20) ? off : 0;
    if (hour >= 8 && hour < 18)
      return wrong + Math.min(20 + (hour - 8) * 80, 90 + 2 * Math.sin((second / 600) * 2 * Math.PI));
    return wrong + 20 + (hour >= 18 ? Math.max(0, 68 - (hour - 18) * 23) : 0);
  };

const driftPhases = (off: number) =>
  waxWatch
    .stepAll(
      waxWatch.initial(),
      [
        ...every(60, clock(0, 8), 3.2 * DAY, pot(off)),
        ...every(60, clock(0, 8), 3.2 * DAY, () => 20.5, 'r1'),
      ].sort((a, b) => a.receivedAt - b.receivedAt),
      lab,
    )
    .findings.filter(({ rule }) => rule === 'probe-drift')
    .map(({ phase }) => phase);

describe('a probe of a pot that is cold at night', () => {
  it('and then 1.8 K too warm drifts, and not only until its pot is switched on', () => {
    expect(driftPhases(1.8)).toEqual(['begins']);
  });
  it('and then as it always was does not', () => {
    expect(driftPhases(0)).toEqual([]);
  });
});
