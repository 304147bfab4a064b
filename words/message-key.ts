// Every key that a message can be asked for by, read off the English files: a key without a text does not compile.

import type authority from './en/authority.json';
import type cautions from './en/cautions.json';
import type demonstration from './en/demonstration.json';
import type errors from './en/errors.json';
import type figures from './en/figures.json';
import type group from './en/group.json';
import type notices from './en/notices.json';
import type patterns from './en/patterns.json';
import type reports from './en/reports.json';
import type rules from './en/rules.json';
import type daily from './en/screens/daily.json';
import type materials from './en/screens/materials.json';
import type evidence from './en/screens/evidence.json';
import type quality from './en/screens/quality.json';
import type sheets from './en/screens/sheets.json';
import type setUp from './en/screens/set-up.json';
import type work from './en/screens/work.json';
import type sources from './en/sources.json';

type Keys<Tree> = Tree extends unknown
  ? {
      [Key in keyof Tree & string]: Tree[Key] extends string ? Key : `${Key}.${Keys<Tree[Key]>}`;
    }[keyof Tree & string]
  : never;

export type MessageKey =
  | `rule.${Keys<typeof rules>}`
  | `error.${Keys<typeof errors>}`
  | Keys<
      | typeof authority
      | typeof cautions
      | typeof demonstration
      | typeof figures
      | typeof group
      | typeof notices
      | typeof patterns
      | typeof reports
      | typeof sources
      | typeof daily
      | typeof materials
      | typeof evidence
      | typeof quality
      | typeof setUp
      | typeof sheets
      | typeof work
    >;
