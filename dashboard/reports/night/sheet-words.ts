// The words of the sheets that leave the program as paper, table or e-mail, and how a figure with its unit reads.

import type { MessageKey } from '../../../words/message-key.ts';
import { localeOf, messageOf, type Say, sayTo } from '../../../words/load-languages.ts';
import { formatDecimal, formatQuantity, type ReaderSettings, type Values } from '../../../words/quantity.ts';
import type { Reason } from '../../api/night.ts';

export type ReportKey = MessageKey extends infer Key
  ? Key extends `report.${infer Name}`
    ? Name
    : never
  : never;

/** Groups of words whose names the data holds. */
export type WordGroup =
  | 'verdict'
  | 'place-verdict'
  | 'fate'
  | 'change'
  | 'standing'
  | 'kind'
  | 'wax'
  | 'action'
  | 'entity'
  | 'role'
  | 'outbox-channel'
  | 'outbox-state';

type InstantText = (at: string | number) => string;

export interface SheetWords {
  readonly reader: ReaderSettings;
  readonly unit: ReaderSettings['temperatureUnit'];
  readonly timeZone: string;
  /** A message of the reports. */
  readonly text: (key: ReportKey, values?: Values) => string;
  readonly say: Say;
  /** The word for a code; the code itself where there is none. */
  readonly word: (group: WordGroup, code: string) => string;
  readonly number: (value: number, digits: number) => string;
  readonly celsius: (value: number | null) => string;
  readonly difference: (celsius: number) => string;
  readonly minutes: (value: number) => string;
  readonly clock: InstantText;
  readonly day: InstantText;
  readonly month: InstantText;
  readonly moment: InstantText;
  /** Within a night, where the weekday is enough. */
  readonly brief: InstantText;
  readonly weekday: InstantText;
}

const TIME = { hour: '2-digit', minute: '2-digit' } as const;
const DAY = { weekday: 'short', day: 'numeric', month: 'short' } as const;

export const sheetWords = (reader: ReaderSettings, timeZone: string): SheetWords => {
  const { language, temperatureUnit: unit, hourCycle } = reader;
  const locale = localeOf(language);
  const format = { locale, temperatureUnit: unit, hourCycle, timeZone };
  const say = sayTo(reader, timeZone);
  const quantity =
    (name: string) =>
    (value: number): string =>
      String(formatQuantity(name, value, format));
  const formatInZone = (options: Intl.DateTimeFormatOptions): InstantText => {
    const dateFormat = new Intl.DateTimeFormat(locale, { timeZone, hourCycle, ...options });
    return (at) => dateFormat.format(new Date(at));
  };
  const celsius = quantity('_celsius');
  return {
    reader,
    unit,
    timeZone,
    text: (key, values) => say(`report.${key}`, values),
    say,
    word: (group, code) => messageOf(language, `${group}.${code}`) ?? code,
    number: (value, digits) => formatDecimal(value, digits, locale),
    celsius: (value) => (value === null ? '–' : celsius(value)),
    difference: quantity('_celsius_difference'),
    minutes: quantity('_minutes'),
    clock: formatInZone(TIME),
    day: formatInZone({ ...DAY, year: 'numeric' }),
    month: formatInZone({ month: 'long', year: 'numeric' }),
    moment: formatInZone({ ...DAY, ...TIME }),
    brief: formatInZone({ weekday: 'short', ...TIME }),
    weekday: formatInZone({ weekday: 'short', day: 'numeric' }),
  };
};

export const reasonTexts = (reasons: readonly Reason[]): string => reasons.map(({ text }) => text).join(' ');
