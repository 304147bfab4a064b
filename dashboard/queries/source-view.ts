// Figures of the science as they cross the wire: the source by its code for screens, in English for programs.

import { QUALITY_TARGETS, type QualityFigureName } from '../../alerts/watch/quality/targets.ts';
import { sourceInEnglish } from '../../words/source-in-english.ts';
import { flowTestOf, type Source, type WaxClass, type WaxValue, waxValueAt } from '../../wax/wax-class.ts';
import type { Figure, SourceView, WaxFigure } from '../api/figures.ts';

// A source belongs to a table or a lab that never changes, and is sent with every status of its station.
const views = new WeakMap<Source, SourceView>();

export const sourceView = (source: Source): SourceView => {
  const made = views.get(source);
  if (made !== undefined) return made;
  const { code, values } = source;
  const view = {
    code,
    ...(values !== undefined && { values: { ...values } }),
    text: sourceInEnglish(source),
  };
  views.set(source, view);
  return view;
};

export const targetView = (name: QualityFigureName) => ({
  ...QUALITY_TARGETS[name],
  source: sourceView(QUALITY_TARGETS[name].source),
});

export const figureView = ({ value, standing, source }: WaxValue): Figure => ({
  value,
  standing,
  source: sourceView(source),
});

/** Of these dotted names those that the wax has. */
export const waxFigureViews = (wax: WaxClass, names: readonly string[]): Record<string, WaxFigure> =>
  Object.fromEntries(
    names.flatMap((name): readonly (readonly [string, WaxFigure])[] => {
      const value = waxValueAt(wax, name);
      const flowTest = flowTestOf(wax, name);
      return value === undefined ? [] : [[name, { ...figureView(value), ...(flowTest && { flowTest }) }]];
    }),
  );
