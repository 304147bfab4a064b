// Parts that the schemas of a described lab share.

import { Type } from 'typebox';
import { VISIBLE_LINE_PATTERN } from '../visible-text.ts';

export const closed = { additionalProperties: false };
export const Name = Type.String({
  minLength: 1,
  maxLength: 80,
  pattern: VISIBLE_LINE_PATTERN,
  'x-form': 'name',
  description: 'a name of 1 to 80 characters, all of which can be seen',
});
export const StationId = Type.String({
  pattern: '^[A-Za-z0-9][A-Za-z0-9-]{0,39}$',
  'x-form': 'id',
  description: 'an id of letters, digits and "-", at most 40',
});
export const TopicPart = Type.String({
  pattern: '^(?!\\.{1,2}$)[A-Za-z0-9._-]{1,64}$',
  'x-form': 'topic',
  description: 'an id of letters, digits, ".", "_" and "-", at most 64, as in its topics',
});
export const Day = Type.String({ format: 'date', description: 'a day as YYYY-MM-DD' });
// Above 150 °C a heater must be switched off (common practice, no source), so no ceiling may lie there.
export const Temperature = Type.Number({
  minimum: -40,
  maximum: 150,
  description: 'a temperature from -40 to 150 °C',
});
