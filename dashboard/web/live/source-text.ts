// Where a figure comes from, in the reader's language and unit.

import { formatValues } from '../../../words/quantity.ts';
import { type CodedSource, sourceText as textOfSource } from '../../../words/source-text.ts';
import { formatSignificant, formatTemperature } from '../base/format.ts';
import { type MessageKey, t } from '../base/messages.ts';
import { quantityFormat, reader } from './lab-state.ts';

/** `isTemperature`: the figure is one, so that what it stands instead of is shown in the reader's unit. */
export const sourceText = (source: CodedSource, isTemperature = false): string =>
  textOfSource(
    source,
    (key, values) => t(key as MessageKey, formatValues(values, quantityFormat.value)),
    (value) =>
      isTemperature ? formatTemperature(value, reader.value) : formatSignificant(value, reader.value),
  );
