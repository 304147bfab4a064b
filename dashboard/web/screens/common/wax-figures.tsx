// The values of a wax, each with its standing and source: those that a lab changes first, and behind them the rest.

import type { WaxClassView } from '../../../api/lab-bodies.ts';
import { DataTable } from '../../base/data-table.tsx';
import { t, word } from '../../base/messages.ts';
import { isTemperature, waxValueName, waxValueText } from '../../forms/wax-value-name.ts';
import { sourceText } from '../../live/source-text.ts';
import { firstValues } from './first-values.ts';

type Figures = WaxClassView['figures'];

const split = (figures: Figures) => {
  const entries = Object.entries(figures);
  const first = firstValues(Object.keys(figures));
  return {
    first: first.flatMap((name) => entries.filter(([each]) => each === name)),
    rest: entries.filter(([name]) => !first.includes(name)),
  };
};

/** For a choice among them, in the order of the tables. */
export const waxValueChoices = (figures: Figures): readonly (readonly [name: string, text: string])[] => {
  const { first, rest } = split(figures);
  return [...first, ...rest].map(([name, figure]) => [name, waxValueName(name, figure)]);
};

const FigureTable = ({ figures }: { readonly figures: readonly (readonly [string, Figures[string]])[] }) => (
  <DataTable
    rows={figures}
    keyOf={([name]) => name}
    columns={{
      [t('figure.what')]: ([name, figure]) => waxValueName(name, figure),
      [t('figure.value')]: {
        figures: ([name, figure]) => <strong>{waxValueText(name, figure.value)}</strong>,
      },
      [t('figure.standing')]: ([, figure]) => word('standing', figure.standing),
      [t('figure.source')]: ([name, figure]) => (
        <span class="dim">{sourceText(figure.source, isTemperature(name))}</span>
      ),
    }}
  />
);

export const WaxFigures = ({ figures }: { readonly figures: Figures }) => {
  const { first, rest } = split(figures);
  /** What was entered here is not to be looked for. */
  const isEntered = ([, { standing }]: (typeof rest)[number]) =>
    standing === "lab's own" || standing === "maker's sheet";
  return (
    <>
      <FigureTable figures={[...first, ...rest.filter(isEntered)]} />
      <details>
        <summary>{t('waxes.further')}</summary>
        <FigureTable figures={rest.filter((entry) => !isEntered(entry))} />
      </details>
    </>
  );
};
