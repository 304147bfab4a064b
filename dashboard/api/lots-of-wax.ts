// Parts that the schemas of patterns and charges share.

import { Type } from 'typebox';
import { WAX_CLASS_IDS } from '../../wax/classes/wax-class-id.ts';
import { Nullable } from './schema-parts.ts';

export const Wax = Type.Enum([...WAX_CLASS_IDS], { description: 'Id of the wax class' });
export const Reason = Type.String({ minLength: 1, maxLength: 500, pattern: '\\S', description: 'Why' });

export const LotShareView = Type.Object({
  lot: Nullable(Type.String({ description: 'Id of the lot; null: not recorded' })),
  name: Nullable(Type.String({ description: 'Maker and number' })),
  isExpired: Type.Boolean(),
  share: Type.Number({ description: '0 to 1' }),
});

export const LotId = Type.String({ minLength: 1, maxLength: 20, description: 'Id of the lot' });
