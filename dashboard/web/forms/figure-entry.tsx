// One figure of a rule: named in the reader's language, shown and typed in the reader's unit, within its bounds.

import type { RuleView } from '../../api/lab-bodies.ts';
import { formatSignificant } from '../base/format.ts';
import { t, word } from '../base/messages.ts';
import { sourceText } from '../live/source-text.ts';
import { reader } from '../live/lab-state.ts';
import { NumberEntry } from './entries.tsx';
import { figureLabel } from './figure-label.ts';
import { figureShown, figureTyped } from './figure-unit.ts';

type Figure = RuleView['parameters'][string];

/** A stored value in the reader's unit, which its label names. */
export const figureText = ({ unit }: Figure, stored: number): string =>
  formatSignificant(figureShown(stored, unit, reader.value.unit), reader.value);

interface FigureEntryProps {
  readonly rule: string;
  readonly name: string;
  readonly figure: Figure;
  /** As it is kept; null: the default holds. */
  readonly value: number | null;
  readonly onChange: (value: number | null) => void;
  readonly error: string | null;
}

export const FigureEntry = ({ rule, name, figure, value, onChange, error }: FigureEntryProps) => {
  const { unit } = reader.value;
  const shown = (stored: number): number => figureShown(stored, figure.unit, unit);
  const text = (stored: number): string => figureText(figure, stored);
  return (
    <NumberEntry
      label="rule-figures.figure"
      labelText={figureLabel(rule, name, figure.unit)}
      hint={t('rule-figures.bounds', {
        low: text(figure.low),
        high: text(figure.high),
        usual: text(figure.default),
        standing: word('standing', figure.standing),
        source: sourceText(figure.source),
      })}
      min={shown(figure.low)}
      max={shown(figure.high)}
      value={value === null ? null : shown(value)}
      onChange={(typed) => onChange(typed === null ? null : figureTyped(typed, figure.unit, unit))}
      error={error}
    />
  );
};
