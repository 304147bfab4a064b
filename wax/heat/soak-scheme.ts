// The same conduction as the series, for surroundings whose temperature changes: conservative finite volumes, implicit
// (backward Euler, so no step is too long to be stable), one sweep along each direction. What flows out of one cell
// flows into its neighbour; the heat in the body changes by exactly what passed its surface.
// Source: Patankar, Numerical Heat Transfer and Fluid Flow, ch. 4; splitting after Yanenko (both from memory).

import type { SoakAxis, SoakBody } from './soak-body.ts';
import { diffusivity } from './soak-body.ts';

/** Geometry of one direction, scaled: volumes sum to 1; conductances in 1/s, between cells and to the surroundings. */
interface AxisGrid {
  readonly volumes: readonly number[];
  /** Between cell i and i + 1. */
  readonly inner: readonly number[];
  readonly outer: number;
}

const POWER = { slab: 0, cylinder: 1, sphere: 2 } as const;

function axisGrid(axis: SoakAxis, body: SoakBody, cells: number): AxisGrid {
  const power = POWER[axis.geometry];
  const step = 1 / cells;
  const edge = (i: number): number => i * step;
  const volume = (i: number): number => edge(i + 1) ** (power + 1) - edge(i) ** (power + 1);
  // Fourier number per second; the area of the surface r = x is (power + 1) x^power in these units.
  const perSecond = diffusivity(body.material) / axis.half ** 2;
  const area = (x: number): number => (power + 1) * x ** power;
  const biot = (body.surface * axis.half) / body.material.conductivity;
  const indices = Array.from({ length: cells }, (_, i) => i);
  return {
    volumes: indices.map(volume),
    inner: indices.slice(1).map((i) => (perSecond * area(edge(i))) / step),
    // Half a cell of wax and the surface film in series.
    outer: (perSecond * area(1)) / (step / 2 + 1 / biot),
  };
}

export interface SoakGrid {
  readonly axes: readonly AxisGrid[];
  readonly cells: number;
}

export const soakGrid = (body: SoakBody, cells: number): SoakGrid => ({
  axes: body.axes.map((axis) => axisGrid(axis, body, cells)),
  cells,
});

export const cellCount = (grid: SoakGrid): number => grid.cells ** grid.axes.length;

/** Share of the body's volume in each cell, in the order of the temperatures (first direction runs fastest). */
export const cellVolumes = (grid: SoakGrid): number[] =>
  grid.axes.reduce<number[]>(
    (before, { volumes }) => volumes.flatMap((volume) => before.map((product) => product * volume)),
    [1],
  );

export interface SoakSweep {
  readonly temperatures: readonly number[];
  /** Heat that came in over the surface, as the rise in kelvins that it gives the whole body. */
  readonly heatIn: number;
}

/** One step of `seconds` in surroundings of `outside` °C, the temperature at the end of the step. */
export function soakSweep(
  grid: SoakGrid,
  temperatures: readonly number[],
  outside: number,
  seconds: number,
): SoakSweep {
  const next = [...temperatures];
  const volumes = cellVolumes(grid);
  let heatIn = 0;
  for (const [dimension, axis] of grid.axes.entries()) {
    const stride = grid.cells ** dimension;
    for (let start = 0; start < next.length; start++) {
      if (Math.floor(start / stride) % grid.cells !== 0) continue;
      solveLine(axis, next, start, stride, outside, seconds);
      const last = start + stride * (grid.cells - 1);
      // Cross-section of this line: its volume over the part of it that belongs to this direction.
      const share = (volumes[last] ?? 0) / (axis.volumes.at(-1) ?? 1);
      heatIn += share * seconds * axis.outer * (outside - (next[last] ?? 0));
    }
  }
  return { temperatures: next, heatIn };
}

/** Thomas algorithm on one line of cells, in place; the matrix is diagonally dominant, so it needs no pivoting. */
function solveLine(
  { volumes, inner, outer }: AxisGrid,
  values: number[],
  start: number,
  stride: number,
  outside: number,
  seconds: number,
): void {
  const count = volumes.length;
  const gamma: number[] = [];
  let carried = 0;
  for (let i = 0; i < count; i++) {
    const at = start + i * stride;
    const volume = volumes[i] ?? 0;
    const left = seconds * (inner[i - 1] ?? 0);
    const right = seconds * (inner[i] ?? 0);
    const film = i === count - 1 ? seconds * outer : 0;
    const pivot = volume + left + right + film - left * (gamma[i - 1] ?? 0);
    gamma.push(right / pivot);
    carried = (volume * (values[at] ?? 0) + film * outside + left * carried) / pivot;
    values[at] = carried;
  }
  for (let i = count - 2; i >= 0; i--) {
    const at = start + i * stride;
    values[at] = (values[at] ?? 0) + (gamma[i] ?? 0) * (values[at + stride] ?? 0);
  }
}
