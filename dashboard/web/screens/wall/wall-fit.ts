// Sizes of type within one station of the wall, and how words shrink to fit it.

import { shrinkToFit } from '../common/wall-layout.ts';

type Shrunk = (text: string, taken_ems: number) => { readonly '--shrink': string };

export interface Fit {
  readonly name: Shrunk;
  readonly state: Shrunk;
  readonly facts: Shrunk;
}

/** `taken_ems`: width that other things on the line take, in sizes of the type. */
export const wallFit = (
  cell_pixels: number,
  type_pixels: { readonly name: number; readonly state: number; readonly facts: number },
): Fit => {
  const shrunk =
    (type: number): Shrunk =>
    (text, taken_ems) => ({
      '--shrink': `${shrinkToFit(text.length, cell_pixels - taken_ems * type, type)}`,
    });
  return {
    name: shrunk(type_pixels.name),
    state: shrunk(type_pixels.state),
    facts: shrunk(type_pixels.facts),
  };
};
