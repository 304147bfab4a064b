import { describe, expect, it } from 'vitest';
import { actAt, probeOf, labOf } from '../../../tests/rehearsal.ts';
import { every, begun } from '../../../tests/pot-runs.ts';

describe('soaking', () => {
  const annealerOf = (piece: Record<string, number> = {}) =>
    labOf(
      [
        {
          id: 'pot-1',
          name: 'Annealer',
          kind: 'annealer',
          wax: 'inlay-type-1',
          window_celsius: [45, 55],
          ceiling_celsius: 60,
          rules: { 'soak-ready': piece },
        },
      ],
      [probeOf('p1', 'pot-1')],
    );
  const annealer = annealerOf();
  const loaded = (minutes: number) => [
    ...every(30, 0, 60, () => 50),
    actAt(61, { type: 'load-in', station: 'pot-1', load: 'ten sticks', by: 'Mira' }),
    ...every(30, 90, 61 + minutes * 60, () => 50),
    actAt(62 + minutes * 60, { type: 'load-out', station: 'pot-1', by: 'Mira' }),
  ];
  it.each([
    { minutes: 14, raised: 'soak-incomplete' },
    { minutes: 16, raised: 'soak-ready' },
  ])('for $minutes min raises $raised', ({ minutes, raised }) => {
    expect(begun(loaded(minutes), annealer)).toEqual([raised]);
  });

  // A stick of 20 mm in still air takes over half an hour to 44 °C at its axis, one of 30 mm about an hour.
  it.each([
    { piece: { stick_millimetres: 20 }, minutes: 20, raised: 'soak-incomplete' },
    { piece: { stick_millimetres: 20 }, minutes: 60, raised: 'soak-ready' },
    { piece: { stick_millimetres: 30 }, minutes: 40, raised: 'soak-incomplete' },
    { piece: { sheet_millimetres: 1.5 }, minutes: 16, raised: 'soak-ready' },
    { piece: { sheet_millimetres: 20 }, minutes: 30, raised: 'soak-incomplete' },
  ])('$piece for $minutes min raises $raised, by its core', ({ piece, minutes, raised }) => {
    expect(begun(loaded(minutes), annealerOf(piece))).toEqual([raised]);
  });
});
