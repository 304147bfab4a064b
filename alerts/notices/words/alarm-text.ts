// An alarm in words: message, meaning, action and caution in the reader's language, unit and clock. The evidence
// keeps degrees Celsius and epoch milliseconds; the ending of a key says what it is, and here it is converted.

import type { Lab } from '../../../lab/lab.ts';
import type { Person } from '../../../lab/person.ts';
import {
  type Celsius,
  type CelsiusDifference,
  celsiusDifferenceToFahrenheit,
  celsiusToFahrenheit,
} from '../../../wax/units.ts';
import type { Alarm } from '../../watch/life/alarm.ts';
import type { Evidence } from '../../watch/rule/finding.ts';
import type { RuleKind } from '../../watch/rule/rule-kind.ts';
import { de } from './de.ts';
import { en } from './en.ts';
import { type Catalogue, CAUTION_OF, HIDDEN_REASONS, type Worded } from './rule-words.ts';

export interface AlarmText {
  readonly message: string;
  /** What the heat does to the wax. */
  readonly meaning: string;
  readonly action: string;
  /** Empty when the rule needs none. */
  readonly caution: string;
}

export type Reader = Pick<Person, 'language' | 'temperatureUnit' | 'hourCycle'>;

/** What is told: an alarm, or the finding of a notice. */
export type Told = Pick<Alarm, 'rule' | 'subject' | 'subjectKind' | 'tense' | 'raisedAt' | 'evidence'>;

export const CATALOGUES: Readonly<Record<Person['language'], Catalogue>> = { en, de };

export const LOCALES: Readonly<Record<Person['language'], string>> = { en: 'en-GB', de: 'de-DE' };

/** For a reader of whom only the language is known. */
const plainReader = (language: Person['language']): Reader => ({
  language,
  temperatureUnit: 'celsius',
  hourCycle: 'h23',
});

export function alarmText(told: Told, lab: Lab, who: Reader | Person['language']): AlarmText {
  const reader = typeof who === 'string' ? plainReader(who) : who;
  const catalogue = CATALOGUES[reader.language];
  const words = catalogue.rules[told.rule];
  const names: Evidence = {
    ...told.evidence,
    place: placeOf(told, lab),
    station: stationNameOf(told, lab),
    raised_at: told.raisedAt,
  };
  const text = (worded: Worded) => filled(chosen(worded, names), names, catalogue, lab, reader);
  const learned = told.tense === 'learned' ? filled(catalogue.learned, names, catalogue, lab, reader) : '';
  return {
    message: learned + text(words.message),
    meaning: text(words.meaning),
    action: text(words.action),
    caution: catalogue.cautions[CAUTION_OF[told.rule]],
  };
}

/** Why an alarm is hidden by design, in words; empty when it is not. */
export function hiddenText(suppressedBy: string | null, language: Person['language']): string {
  if (suppressedBy === null) return '';
  const { hidden, names } = CATALOGUES[language];
  const [reason, cause] = suppressedBy.split(':');
  const known = HIDDEN_REASONS.find((one) => one === reason);
  if (known === undefined) return suppressedBy;
  return hidden[known].replace('{cause}', cause === undefined ? '' : names[cause as RuleKind]);
}

function chosen(worded: Worded, evidence: Evidence): string {
  if (typeof worded === 'string') return worded;
  const found = worded.cases[String(evidence[worded.by])] ?? Object.values(worded.cases)[0];
  return found ?? '';
}

const filled = (
  template: string,
  evidence: Evidence,
  catalogue: Catalogue,
  lab: Lab,
  reader: Reader,
): string =>
  template.replace(/\{(\w+)\}/g, (_, key: string) => {
    const value = evidence[key];
    if (value === undefined) return '–';
    return typeof value === 'string' ? value : quantity(key, value, catalogue, lab, reader);
  });

/** The number with its unit, by the ending of its key. */
function quantity(key: string, value: number, { units }: Catalogue, lab: Lab, reader: Reader): string {
  const locale = LOCALES[reader.language];
  const number = (amount: number, digits: number): string =>
    new Intl.NumberFormat(locale, {
      maximumFractionDigits: digits,
      minimumFractionDigits: Math.min(digits, 1),
    }).format(amount);
  const fahrenheit = reader.temperatureUnit === 'fahrenheit';
  const degree = fahrenheit ? '°F' : '°C';
  const difference = (amount: number): string =>
    `${number(fahrenheit ? celsiusDifferenceToFahrenheit(amount as CelsiusDifference) : amount, 1)} ${degree}`;
  if (key.endsWith('_celsius_difference')) return difference(value);
  if (key.endsWith('_celsius_per_hour')) return `${difference(value)} ${units.perHour}`;
  if (key.endsWith('_celsius'))
    return `${number(fahrenheit ? celsiusToFahrenheit(value as Celsius) : value, 1)} ${degree}`;
  if (key.endsWith('_minutes')) return `${number(value, 0)} ${units.minutes}`;
  if (key.endsWith('_hours')) return `${number(value, 1)} ${units.hours}`;
  if (key.endsWith('_micrometres')) return `${number(value, 0)} µm`;
  if (key.endsWith('_share')) return `${number(100 * value, 0)} %`;
  if (key.endsWith('_at')) return moment(value, locale, lab, reader);
  return number(value, 0);
}

const moment = (at: number, locale: string, lab: Lab, reader: Reader): string =>
  new Intl.DateTimeFormat(locale, {
    weekday: 'short',
    day: 'numeric',
    month: 'short',
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: reader.hourCycle,
    timeZone: lab.site.timeZone,
  }).format(at);

function placeOf({ subject, subjectKind }: Told, lab: Lab): string {
  if (subjectKind !== 'station') return subject;
  return lab.stations.find(({ id }) => id === subject)?.name ?? subject;
}

function stationNameOf({ subject, subjectKind, evidence }: Told, lab: Lab): string {
  const id =
    subjectKind === 'station'
      ? subject
      : (evidence.station ?? lab.probes.find((probe) => probe.id === subject)?.station ?? null);
  if (id === null) return '–';
  return lab.stations.find((station) => station.id === id)?.name ?? String(id);
}
