// On which paper a sheet is asked for.

import { Type } from 'typebox';

export const Paper = Type.Optional(Type.Enum(['a4', 'letter'], { default: 'a4' }));
