// An instant as the reader of the screen has it: zone, clock and language, with its day unless it is of today.

import { formatInstant } from '../base/format.ts';
import { now, reader } from './lab-state.ts';

export const instantText = (at: number | string): string => formatInstant(at, now.value, reader.value);
