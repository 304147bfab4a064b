// The words of the sheets that leave the program as paper, table or mail, and how a figure with its unit reads.

import type { Reason } from '../../api/night.ts';
import type { ReasonValues, Say } from './verdict.ts';
import { de } from './de.ts';
import { en } from './en.ts';
import type { NightWords, TextKey } from './catalogue.ts';

type Language = 'en' | 'de';

/** For whom it is worded. */
export interface Reader {
  readonly language: Language;
  readonly temperatureUnit: 'celsius' | 'fahrenheit';
  readonly hourCycle: 'h12' | 'h23';
}

const WORDS: Readonly<Record<Language, NightWords>> = { en, de };
const LOCALES: Readonly<Record<Language, string>> = { en: 'en-GB', de: 'de-DE' };

export interface Speaker {
  readonly reader: Reader;
  readonly unit: Reader['temperatureUnit'];
  readonly timeZone: string;
  readonly words: NightWords;
  readonly text: (key: TextKey, places?: ReasonValues) => string;
  readonly number: (value: number, digits: number) => string;
  readonly celsius: (value: number | null) => string;
  readonly difference: (value: number) => string;
  readonly minutes: (value: number) => string;
  readonly clock: (at: string | number) => string;
  readonly day: (at: string | number) => string;
  readonly moment: (at: string | number) => string;
  /** Within a night, where the weekday says enough. */
  readonly brief: (at: string | number) => string;
  readonly weekday: (at: string | number) => string;
  readonly say: Say;
}

export const speaker = (reader: Reader, timeZone: string): Speaker => {
  const { language, temperatureUnit: unit, hourCycle } = reader;
  const words = WORDS[language];
  const locale = LOCALES[language];
  const number = (value: number, digits: number): string => {
    const text = new Intl.NumberFormat(locale, {
      minimumFractionDigits: digits,
      maximumFractionDigits: digits,
      useGrouping: false,
    }).format(value);
    return /[1-9]/.test(text) ? text.replace('-', '−') : text.replace('-', '');
  };
  const mark = unit === 'celsius' ? '°C' : '°F';
  const celsius = (value: number | null): string =>
    value === null ? '–' : `${number(unit === 'celsius' ? value : value * 1.8 + 32, 1)} ${mark}`;
  const difference = (value: number): string =>
    `${number(unit === 'celsius' ? value : value * 1.8, 1)} ${mark}`;
  const minutes = (value: number): string => {
    const whole = Math.round(value);
    return whole < 120 ? `${whole} min` : `${Math.floor(whole / 60)} h ${whole % 60} min`;
  };
  const dated = (options: Intl.DateTimeFormatOptions) => {
    const format = new Intl.DateTimeFormat(locale, { timeZone, hourCycle, ...options });
    return (at: string | number): string => format.format(new Date(at));
  };
  const clock = dated({ hour: '2-digit', minute: '2-digit' });
  const day = dated({ weekday: 'short', day: 'numeric', month: 'short', year: 'numeric' });
  const moment = dated({
    weekday: 'short',
    day: 'numeric',
    month: 'short',
    hour: '2-digit',
    minute: '2-digit',
  });
  const brief = dated({ weekday: 'short', hour: '2-digit', minute: '2-digit' });
  const weekday = dated({ weekday: 'short', day: 'numeric' });
  const filled = (template: string, values: ReasonValues): string =>
    template.replace(/\{(\w+)\}/g, (_, key: string) => {
      const value = values[key];
      if (value === undefined) return '–';
      if (typeof value === 'string') return key.endsWith('_at') ? moment(value) : value;
      if (key.endsWith('_celsius_difference')) return difference(value);
      if (key.endsWith('_celsius')) return celsius(value);
      if (key.endsWith('_minutes')) return minutes(value);
      if (key.endsWith('_micrometres')) return `${number(value, 0)} µm`;
      if (key.endsWith('_share')) return `${number(value * 100, 0)} %`;
      return number(value, 0);
    });
  return {
    reader,
    unit,
    timeZone,
    words,
    text: (key, places = {}) => filled(words.texts[key], places),
    number,
    celsius,
    difference,
    minutes,
    clock,
    day,
    moment,
    brief,
    weekday,
    say: (code, values) => filled(words.reasons[code], values),
  };
};

export const reasonTexts = (reasons: readonly Reason[]): string => reasons.map(({ text }) => text).join(' ');
