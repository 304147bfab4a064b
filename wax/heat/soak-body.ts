// A piece of wax that soaks: stick, sheet or cake, and what surrounds it. A body is a list of directions in which heat
// comes in; for constant surroundings its temperature is the product of the one-dimensional ones (Incropera & DeWitt,
// supplement 5S.2; Newman 1936; both from memory). Constant properties, no melting: a warning, not a simulation of a pour.

import { isTemperature, isWithin } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';
import type { Geometry } from './conduction-series.ts';
import type { Celsius, Millimetres } from '../units.ts';
import type { WaxClass } from '../wax-class.ts';
import { commonPractice } from '../classes/wax-value.ts';

export interface SoakMaterial {
  /** W/(m K). */
  readonly conductivity: number;
  /** kg/m³. */
  readonly density: number;
  /** J/(kg K). */
  readonly heatCapacity: number;
}

/** Solid wax of a class. */
export const soakMaterialOf = ({ conductivity, density, heatCapacity }: WaxClass): SoakMaterial => ({
  conductivity: conductivity.solid.value,
  density: density.solid.value,
  heatCapacity: heatCapacity.solid.value,
});

/** m²/s. */
export const diffusivity = ({ conductivity, density, heatCapacity }: SoakMaterial): number =>
  conductivity / (density * heatCapacity);

/** One direction of heat flow: half-thickness or radius in metres. */
export interface SoakAxis {
  readonly geometry: Geometry;
  readonly half: number;
}

export interface SoakBody {
  readonly axes: readonly SoakAxis[];
  readonly material: SoakMaterial;
  /** Surface coefficient, W/(m² K). */
  readonly surface: number;
}

export type SoakShape =
  | { readonly kind: 'stick'; readonly diameter: Millimetres; readonly length?: Millimetres }
  /** `oneSided`: it lies on a tray or bench that takes no heat in, or is lit from one side. */
  | { readonly kind: 'sheet'; readonly thickness: Millimetres; readonly oneSided?: boolean }
  | {
      readonly kind: 'cake';
      readonly length: Millimetres;
      readonly width: Millimetres;
      readonly height: Millimetres;
    };

/** Empty for a shape that there is not. */
const axesOf = (shape: SoakShape): SoakAxis[] => {
  const slab = (millimetres: number): SoakAxis => ({ geometry: 'slab', half: millimetres / 2000 });
  switch (shape.kind) {
    case 'stick':
      return [
        { geometry: 'cylinder', half: shape.diameter / 2000 },
        ...(shape.length === undefined ? [] : [slab(shape.length)]),
      ];
    case 'sheet':
      // Warmed from one side only, the far side is the plane of symmetry.
      return [slab(shape.oneSided === true ? 2 * shape.thickness : shape.thickness)];
    case 'cake':
      return [slab(shape.length), slab(shape.width), slab(shape.height)];
    default:
      return [];
  }
};

/** Surface coefficients, W/(m² K); each place differs by a factor of two. */
export const SURFACE_COEFFICIENT = {
  'still-air': commonPractice(10, 'free-convection-in-air'),
  'fan-air': commonPractice(25, 'forced-convection-in-air'),
  'water-bath': commonPractice(300, 'free-convection-in-water'),
} as const;
export type Surroundings = keyof typeof SURFACE_COEFFICIENT;

export function soakBody(
  shape: SoakShape,
  material: SoakMaterial,
  surroundings: Surroundings | number,
): Result<SoakBody> {
  const surface = typeof surroundings === 'number' ? surroundings : SURFACE_COEFFICIENT[surroundings]?.value;
  const axes = axesOf(shape);
  const { kind: _, ...measures } = shape;
  const positive = [surface, material.conductivity, material.density, material.heatCapacity];
  const lengths = Object.values(measures).filter((measure) => typeof measure !== 'boolean');
  const halves = axes.map(({ half }) => half);
  return axes.length > 0 &&
    [...positive, ...lengths, ...halves].every((value) => isWithin(value, Number.MIN_VALUE))
    ? success({ axes, material, surface })
    : failure('bad-soak-body', {}, JSON.stringify({ shape, material, surface }));
}

/**
 * What a lamp does to a surface, as one surrounding temperature: the air plus absorbed flux over surface coefficient
 * (the sol-air temperature of building physics). `flux` in W/m², `absorptivity` 0 to 1; radiation back is left out,
 * so it is an upper estimate.
 */
export function underLamp(
  air: Celsius,
  flux: number,
  absorptivity: number,
  surface: number,
): Result<Celsius> {
  const added = (flux * absorptivity) / surface;
  if (
    !(isWithin(flux, 0) && isWithin(absorptivity, 0, 1) && isWithin(surface, Number.MIN_VALUE)) ||
    !isTemperature(air) ||
    !isTemperature(air + added)
  )
    return failure('bad-lamp', {}, `${flux} W/m², ${absorptivity}, ${surface} W/(m² K)`);
  return success((air + added) as Celsius);
}
