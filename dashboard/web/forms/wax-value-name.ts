// Names of the values of a wax class, in the language of the screens.

import type { WaxFigure } from '../../api/figures.ts';
import { waxValueName as nameOf } from '../../../words/wax-value-name.ts';
import { formatTemperature } from '../base/format.ts';
import { t } from '../base/messages.ts';
import { reader } from '../live/lab-state.ts';

export { isTemperature } from '../../../words/wax-value-name.ts';

/** Without its figure a limit of flow is only counted. */
export const waxValueName = (name: string, figure?: WaxFigure): string => {
  const test = figure?.flowTest;
  return nameOf(name, t, test && { test: test.test, at: formatTemperature(test.celsius, reader.value) });
};
