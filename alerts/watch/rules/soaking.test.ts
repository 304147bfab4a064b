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

  // A cabinet between 49 and 51 °C whose door is opened at these minutes; nobody records a load. A cold load keeps the air
  // under its usual top, an emptied cabinet overshoots it.
  const cycle = (seconds: number): number => 50 + Math.cos((2 * Math.PI * seconds) / 360);
  const throughDoors = (laidIn: readonly number[], takenOut: readonly number[]) =>
    every(20, 0, 150 * 60, (seconds) => {
      let celsius = cycle(seconds);
      for (const minute of [...laidIn, ...takenOut]) {
        const since = seconds - minute * 60;
        const isOut = takenOut.includes(minute);
        if (since < 0) continue;
        celsius -= 4 * Math.min(1, since / 40) * Math.exp(-Math.max(0, since - 40) / (isOut ? 50 : 150));
        if (isOut) celsius += Math.exp(-(((since - 180) / 60) ** 2));
      }
      return celsius;
    });

  it.each([
    { laidIn: [120], takenOut: [127], raised: ['soak-incomplete'] },
    { laidIn: [110, 117], takenOut: [127], raised: [] },
    { laidIn: [108], takenOut: [130], raised: [] },
    { laidIn: [127], takenOut: [120], raised: [] },
    { laidIn: [120], takenOut: [122.5], raised: [] },
    { laidIn: [95], takenOut: [117, 127], raised: [] },
  ])(
    'doors that loaded at $laidIn min and emptied at $takenOut min raise $raised, where 15 min are needed',
    ({ laidIn, takenOut, raised }) => {
      expect(begun(throughDoors(laidIn, takenOut), annealer)).toEqual(raised);
    },
  );

  it('raises nothing of a cabinet that is read four times a cycle, when a low end is read now and then', () => {
    const seldomLow = (seconds: number) => {
      const turn = Math.floor(seconds / 240) % 20;
      const low = turn === 0 || turn === 2 ? -3 : -1.2;
      return 50 + ([0, turn === 3 ? 1.5 : 1.2, 0, low][(seconds / 60) % 4] ?? 0);
    };
    expect(begun(every(60, 0, 8 * 3600, seldomLow), annealer)).toEqual([]);
  });
});
