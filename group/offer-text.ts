// What an offer holds and what it would change in a lab, in words. Escaped.

import { RULES } from '../alerts/watch/rules/all-rules.ts';
import type { OfferItem } from '../lab/group/group-offer.ts';
import type { OfferChange } from '../lab/group/offer.ts';
import { isWaxClassId } from '../wax/classes/wax-class-id.ts';
import { ownEntry } from '../wax/own-entry.ts';
import { flowTestOf, waxClass } from '../wax/wax-class.ts';
import { localeOf, messageOf } from '../words/load-languages.ts';
import { isTemperature, waxValueName } from '../words/wax-value-name.ts';
import { escapeHtml, nameOfCode, sayIn } from './html.ts';

/** Without a sign between thousands: what is in a hint is typed as it is. */
const number = (value: number, language: string): string =>
  escapeHtml(
    new Intl.NumberFormat(localeOf(language), { maximumSignificantDigits: 6, useGrouping: false }).format(
      value,
    ),
  );

export const waxName = (language: string, wax: string): string => nameOfCode(language, `wax.${wax}`, wax);
export const ruleName = (language: string, rule: string): string =>
  nameOfCode(language, `rule.${rule}.name`, rule);
export const placeName = (language: string, place: string): string =>
  place === 'lab' ? sayIn(language)('group.whole-lab') : nameOfCode(language, `kind.${place}`, place);

export const valueName = (language: string, wax: string, name: string): string => {
  const test = isWaxClassId(wax) ? flowTestOf(waxClass(wax), name) : undefined;
  const flowTest = test && { test: test.test, at: `${number(test.celsius, language)} °C` };
  return escapeHtml(waxValueName(name, (key) => messageOf(language, key) ?? key, flowTest));
};

export const waxValue = (language: string, name: string, value: number | null): string => {
  if (value === null) return sayIn(language)('group.nothing');
  return isTemperature(name) ? `${number(value, language)} °C` : number(value, language);
};

/** A share and a number have none: their names state what they are of. */
const unitOf = (language: string, rule: string, figure: string): string | null => {
  const unit = ownEntry(ownEntry(RULES, rule)?.parameters ?? {}, figure)?.unit;
  if (unit === undefined || unit === 'share' || unit === 'count') return null;
  if (unit === 'celsius_per_hour') return sayIn(language)('figure-unit.per-hour', { unit: '°C' });
  return nameOfCode(language, `figure-unit.${unit}`, '°C');
};

/** What most rules have is worded once, under its name alone. */
export const figureName = (language: string, rule: string, figure: string): string => {
  if (figure === 'enabled') return sayIn(language)('group.rule-enabled');
  const name =
    messageOf(language, `rule.${rule}.figures.${figure}`) ?? messageOf(language, `rule-figure.${figure}`);
  const unit = unitOf(language, rule, figure);
  return unit === null ? escapeHtml(name ?? figure) : `${escapeHtml(name ?? figure)} (${unit})`;
};

export const figureValue = (language: string, value: number | boolean): string =>
  typeof value === 'number' ? number(value, language) : sayIn(language)(value ? 'group.on' : 'group.off');

const lotName = ({ maker, lot }: { readonly maker: string; readonly lot: string }): string =>
  escapeHtml(`${maker} ${lot}`);

/** One line. */
export function itemText(item: OfferItem, language: string): string {
  if (item.kind === 'rule-figures') {
    const figures = Object.entries(item.figures).map(
      ([figure, value]) => `${figureName(language, item.rule, figure)} ${figureValue(language, value)}`,
    );
    return `${placeName(language, item.place)}, ${ruleName(language, item.rule)}: ${figures.join(', ')}`;
  }
  const values = Object.entries(item.kind === 'lot' ? item.sheet_values : item.values).map(
    ([name, value]) => `${valueName(language, item.wax, name)} ${waxValue(language, name, value)}`,
  );
  if (item.kind === 'wax-values') return `${waxName(language, item.wax)}: ${values.join(', ')}`;
  const expiry = item.expires_on === null ? [] : [escapeHtml(item.expires_on)];
  return [`${lotName(item)} (${waxName(language, item.wax)})`, ...expiry, ...values].join(', ');
}

/** What, now, offered. */
export function changeCells(
  change: OfferChange,
  stations: readonly { readonly id: string; readonly name: string }[],
  language: string,
): readonly [string, string, string] {
  const nothing = sayIn(language)('group.nothing');
  switch (change.kind) {
    case 'wax-value':
      return [
        `${waxName(language, change.wax)}: ${valueName(language, change.wax, change.name)}`,
        waxValue(language, change.name, change.before),
        waxValue(language, change.name, change.after),
      ];
    case 'rule-figure': {
      const place =
        change.station === null
          ? placeName(language, 'lab')
          : escapeHtml(stations.find(({ id }) => id === change.station)?.name ?? change.station);
      return [
        `${place}: ${ruleName(language, change.rule)}, ${figureName(language, change.rule, change.figure)}`,
        figureValue(language, change.before),
        figureValue(language, change.after),
      ];
    }
    case 'lot-added':
      return [lotName(change), nothing, waxName(language, change.wax)];
    case 'lot-expiry':
      return [
        `${lotName(change)}: ${sayIn(language)('group.expires')}`,
        change.before === null ? nothing : escapeHtml(change.before),
        escapeHtml(change.after),
      ];
    case 'lot-value':
      return [
        `${lotName(change)}: ${valueName(language, change.wax, change.name)}`,
        waxValue(language, change.name, change.before),
        waxValue(language, change.name, change.after),
      ];
  }
}
