import { describe, expect, it } from 'vitest';
import { type Rest, restShift, restStep } from './rest.ts';

const STRETCH = 600_000;
const resting = (count: number, kelvins: (index: number) => number): readonly Rest[] => {
  let rest: Rest | undefined;
  for (let index = 1; index <= count; index += 1) rest = restStep(rest, index * STRETCH, kelvins(index));
  return rest === undefined ? [] : [rest];
};
const still = () => 0.4;
const drifting = (index: number) => 0.4 + Math.max(0, index - 60) * 0.02;

describe('a heater at rest', () => {
  it('stands from the places around it as it usually does', () => {
    expect(restShift(resting(60, still), 60 * STRETCH, 36)).toBeCloseTo(0, 9);
  });
  it('shows what its probe drifts by within a night, once a night has made the usual difference', () => {
    expect(restShift(resting(150, drifting), 150 * STRETCH, 36)).toBeGreaterThan(1.5);
  });
  it('does not take the second night for usual where it stands elsewhere from its first hour on', () => {
    const moved = (index: number) => (index <= 20 ? 0.4 : 1.9);
    expect(restShift(resting(60, moved), 60 * STRETCH, 18)).toBeGreaterThan(1.3);
  });
  it.each([
    { places: 'one of two', courses: [drifting, still], moved: false },
    { places: 'both of two', courses: [drifting, drifting], moved: true },
    { places: 'one of three', courses: [drifting, still, still], moved: false },
    { places: 'two of three', courses: [drifting, still, drifting], moved: true },
  ])('that moves away from $places drifts: $moved', ({ courses, moved }) => {
    const rests = courses.flatMap((course) => resting(150, course));
    expect(Math.abs(restShift(rests, 150 * STRETCH, 36) ?? 0) > 1.5).toBe(moved);
  });
  it('is null on few stretches, and of half an hour ago and more', () => {
    expect(restShift(resting(35, still), 35 * STRETCH, 36)).toBeNull();
    expect(restShift(resting(60, still), 64 * STRETCH, 36)).toBeNull();
    expect(restShift([], 0, 36)).toBeNull();
  });
});
