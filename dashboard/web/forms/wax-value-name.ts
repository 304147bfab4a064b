// Names of the values of a wax class, in the language of the screens.

import { waxValueName as nameOf } from '../../../words/wax-value-name.ts';
import { t } from '../base/messages.ts';

export { isTemperature } from '../../../words/wax-value-name.ts';

export const waxValueName = (name: string): string => nameOf(name, t);
