// What the messages between a lab and its group are made of, in both directions.

import { Type } from 'typebox';
import { VISIBLE_LINE_PATTERN } from '../visible-text.ts';
import { Nullable } from '../nullable.ts';

export const GROUP_MESSAGE_VERSION = 1;

/** Narrower than RFC 3339: no leap second and no year 0, which JavaScript or PostgreSQL cannot read. */
export const Instant = Type.String({
  format: 'date-time',
  pattern: String.raw`^(19[7-9]\d|[2-9]\d{3})-\d\d-\d\dT\d\d:\d\d:[0-5]\d(\.\d{1,9})?Z$`,
  description: 'ISO 8601 instant in UTC, 1970 to 9999',
});
export const Id = Type.String({ minLength: 1, maxLength: 200 });
/** More than any lab has; without a bound one message could fill every page. */
export const MOST_ITEMS = 5000;

export const head = {
  version: Type.Literal(GROUP_MESSAGE_VERSION),
  site: Id,
  offset: Type.Integer({ minimum: 0, description: 'of the lab; it grows with what the lab took in' }),
  sent_at: Instant,
};

/** More than a wax class or a rule has. */
const MOST_FIGURES = 200;
const Name = Type.String({ minLength: 1, maxLength: 100 });
const ofOneRule = Type.Record(Name, Type.Union([Type.Number(), Type.Boolean()]), {
  maxProperties: MOST_FIGURES,
  description: 'by figure, the unit in its name; `enabled` switches the rule',
});
export const Figures = {
  wax: Type.Record(Name, Type.Number(), {
    maxProperties: MOST_FIGURES,
    description: 'by dotted name of the value of the wax class: `ceiling`, `workingWindow.low`',
  }),
  ofOneRule,
  rules: Type.Record(Name, ofOneRule, { maxProperties: MOST_FIGURES, description: 'by rule' }),
};

/** A line of text that holds no sign that a reader does not see. */
export const lineOf = (maxLength: number) =>
  Type.String({ minLength: 1, maxLength, pattern: VISIBLE_LINE_PATTERN });

/** As printed on the pack, so that a recall finds it in every lab. */
export const Lot = Type.Object({ maker: Type.String(), lot: Type.String() });

/** With what the maker's sheet states of it. */
export const OfferedLot = Type.Object({
  maker: lineOf(80),
  lot: lineOf(60),
  wax: Id,
  expires_on: Nullable(
    Type.String({ format: 'date', pattern: String.raw`^\d{4}-\d\d-\d\d$`, description: 'last day of use' }),
  ),
  sheet_values: Figures.wax,
});
