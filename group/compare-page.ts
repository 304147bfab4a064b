// Labs side by side.

import type { MessageKey } from '../words/message-key.ts';
import type { LabFigures } from './compare.ts';
import { labLink, sayIn, table } from './html.ts';

const HEADS = [
  'lab',
  'days',
  'alarms-per',
  'nuisance-per',
  'answer',
  'never-answered',
  'swing',
  'outside',
  'dose-day',
  'dose-most',
  'remade',
] as const;

export function comparePage(figures: readonly LabFigures[], language: string): string {
  const say = sayIn(language);
  const number = (value: number, digits: number): string =>
    new Intl.NumberFormat(language, { minimumFractionDigits: digits, maximumFractionDigits: digits }).format(
      value,
    );
  const figure = (value: number | null, write: (value: number) => string): string =>
    value === null ? say('group.nothing') : write(value);
  const perDay = (value: number): string => number(value, 2);
  const share = (part: number, all: number): string =>
    all === 0 ? say('group.nothing') : say('group.share', { part: String(part), all: String(all) });
  const rows = figures.map((lab) => [
    labLink(lab.site, lab.name),
    number(lab.days, 1),
    figure(lab.alarmsPerStationDay, perDay),
    figure(lab.nuisancePerStationDay, perDay),
    figure(lab.answerMinutes, (minutes) => say('group.minutes', { minutes: number(minutes, 1) })),
    share(lab.neverAnswered, lab.raised),
    figure(lab.swingCelsius, (kelvin) => `${number(kelvin, 1)} K`),
    figure(lab.outsideShare, (outside) => `${number(outside * 100, 1)} %`),
    figure(lab.doseHoursPerDay, (hours) => `${number(hours, 1)} h`),
    figure(lab.mostDoseShare, (dose) => `${number(dose * 100, 0)} %`),
    share(lab.remade, lab.ended),
  ]);
  const heads = HEADS.map((head) => say(`group.${head}` satisfies MessageKey));
  return [
    `<h1>${say('group.compare')}</h1><p class="dim">${say('group.compare-explain')}</p>`,
    figures.length === 0 ? `<p>${say('group.none')}</p>` : `<div class="figures">${table(heads, rows)}</div>`,
  ].join('');
}
