// Figures of the science as they cross the wire, each with where it comes from.

import { type Static, Type } from 'typebox';
import { STANDINGS } from '../../wax/classes/wax-value.ts';
import { Values } from './schema-parts.ts';

/** Where a figure comes from; screens word it by its code. */
export const SourceView = Type.Object({
  code: Type.String(),
  values: Type.Optional(Values),
  text: Type.String({ description: 'In English' }),
});
export type SourceView = Static<typeof SourceView>;

/** A figure of the science with where it comes from; shown wherever the figure is shown. */
export const Figure = Type.Object({
  value: Type.Number(),
  standing: Type.Enum([...STANDINGS]),
  source: SourceView,
});
export type Figure = Static<typeof Figure>;

/** A figure of a wax class. */
export const WaxFigure = Type.Object({
  ...Figure.properties,
  flowTest: Type.Optional(
    Type.Object(
      { test: Type.Enum(['flow', 'penetration']), celsius: Type.Number() },
      { description: 'Of a limit of flow: the test it belongs to' },
    ),
  ),
});
export type WaxFigure = Static<typeof WaxFigure>;
