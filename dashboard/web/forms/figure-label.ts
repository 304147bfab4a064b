// What a figure of a rule is called, with the unit that it is shown in.

import { unitMark } from '../base/format.ts';
import { type MessageKey, ruleFigure, t, word } from '../base/messages.ts';
import { reader } from '../live/lab-state.ts';

const UNITS: Readonly<Record<string, MessageKey>> = {
  seconds: 'figure-unit.seconds',
  minutes: 'figure-unit.minutes',
  hours: 'figure-unit.hours',
  days: 'figure-unit.days',
  micrometres: 'figure-unit.micrometres',
  millimetres: 'figure-unit.millimetres',
};

/** A share and a number have none: their names state what they are of. */
const unitText = (unit: string): string | null => {
  if (unit === 'share' || unit === 'count') return null;
  const key = UNITS[unit];
  if (key !== undefined) return t(key);
  const degrees = unitMark(reader.value.unit);
  return unit === 'celsius_per_hour' ? t('figure-unit.per-hour', { unit: degrees }) : degrees;
};

/** What most rules have is worded once, under its name alone. */
const nameOf = (rule: string, name: string): string => ruleFigure(rule, name) ?? word('rule-figure', name);

export const figureLabel = (rule: string, name: string, unit: string): string => {
  const shown = unitText(unit);
  return shown === null ? nameOf(rule, name) : `${nameOf(rule, name)} (${shown})`;
};
