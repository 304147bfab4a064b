// Names and figures of the values of a wax class, in the language and the unit of the screens.

import type { WaxFigure } from '../../api/figures.ts';
import { isTemperature, waxValueName as nameOf } from '../../../words/wax-value-name.ts';
import type { FieldError, Trouble } from '../base/api.ts';
import { formatSignificant, formatTemperature } from '../base/format.ts';
import { t } from '../base/messages.ts';
import { reader } from '../live/lab-state.ts';

export { isTemperature };

/** Without its figure a limit of flow is only counted. */
export const waxValueName = (name: string, figure?: WaxFigure): string => {
  const test = figure?.flowTest;
  return nameOf(name, t, test && { test: test.test, at: formatTemperature(test.celsius, reader.value) });
};

export const waxValueText = (name: string, value: number): string =>
  isTemperature(name) ? formatTemperature(value, reader.value) : formatSignificant(value, reader.value);

const nameValueInError = (error: FieldError): FieldError => {
  const { name, least, most } = error.values ?? {};
  if (error.code !== 'wax-value-refused' || typeof name !== 'string') return error;
  const [low = '', high = ''] = [least, most].map((bound) => waxValueText(name, Number(bound)));
  return { ...error, detail: t('waxes.refused', { name: waxValueName(name), least: low, most: high }) };
};

/** A refused value by its name and its bounds as they are shown; the sentence of the server names it by its code. */
export const nameValueInTrouble = (trouble: Trouble): Trouble => ({
  ...trouble,
  ...(trouble.errors && { errors: trouble.errors.map(nameValueInError) }),
});
