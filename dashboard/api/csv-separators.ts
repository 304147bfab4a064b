// What is between the cells of a table, and with it the sign of decimals: spreadsheets of one region read the one, of
// another the other.

import { type Static, Type } from 'typebox';

export const CsvSeparators = Type.Enum(['comma', 'semicolon'], {
  description:
    '`comma`: cells by commas, decimals by points (RFC 4180); `semicolon`: cells by semicolons, decimals by commas',
  default: 'comma',
});
export type CsvSeparators = Static<typeof CsvSeparators>;
