// The pages of those who give: choose what is offered, type it, see what would change in each lab, send it; and the
// answers of the labs.

import { RULES } from '../alerts/watch/rules/all-rules.ts';
import { placesOf, RULES_BY_PLACE } from '../alerts/watch/rules/rules-by-place.ts';
import type { OfferItem } from '../lab/group/group-offer.ts';
import { offerChanges } from '../lab/group/offer.ts';
import { offerProblems } from '../lab/group/offer-checks.ts';
import { STATION_KINDS } from '../lab/station-kinds.ts';
import { findWaxClassId, WAX_CLASS_IDS } from '../wax/classes/wax-class-id.ts';
import { ownEntry } from '../wax/own-entry.ts';
import { sheetValueNames, waxClass, waxValueAt, waxValueNames } from '../wax/wax-class.ts';
import type { MessageKey } from '../words/message-key.ts';
import { whatIsWrong } from '../words/problem-text.ts';
import type { Fields, FormTrouble, OfferSubject } from './give-form.ts';
import { escapeHtml, instant, labLink, readerSay, sayIn, table } from './html.ts';
import {
  changeCells,
  figureName,
  figureValue,
  itemText,
  placeName,
  ruleName,
  valueName,
  waxName,
  waxValue,
} from './offer-text.ts';
import { offerTarget } from './offer-target.ts';
import type { OfferedLab, SentOffer, SiteAnswer } from './offers.ts';

const select = (name: string, label: string, options: readonly (readonly [string, string])[]): string =>
  `<label>${label} <select name="${name}">${options
    .map(([value, text]) => `<option value="${escapeHtml(value)}">${text}</option>`)
    .join('')}</select></label>`;

const choice = (what: OfferSubject['what'], title: string, fields: string, button: string): string =>
  `<section><h2>${title}</h2><form method="get" action="/give"><input type="hidden" name="what" value="${what}">${fields} <button>${button}</button></form></section>`;

const PLACES = [...STATION_KINDS, 'lab'] as const;

/** What shall be offered. `place`: chosen already, its rules are to be chosen from. */
export function choosePage(place: string, language: string): string {
  const say = sayIn(language);
  const waxes = WAX_CLASS_IDS.map((id) => [id, waxName(language, id)] as const);
  const rules = Object.keys(RULES_BY_PLACE.at(PLACES.find((listed) => listed === place) ?? 'lab'));
  const isPlace = PLACES.some((listed) => listed === place);
  const choose = say('group.give-choose');
  return [
    `<h1>${say('group.give')}</h1><p>${say('group.give-explain')}</p>`,
    choice('wax', say('group.give-wax'), select('wax', say('group.wax'), waxes), choose),
    choice(
      'rule',
      say('group.give-rule'),
      isPlace
        ? `<input type="hidden" name="place" value="${escapeHtml(place)}"><p>${placeName(language, place)}</p>${select(
            'rule',
            say('group.rule'),
            rules.map((rule) => [rule, ruleName(language, rule)] as const),
          )}`
        : select(
            'place',
            say('group.place'),
            PLACES.map((listed) => [listed, placeName(language, listed)] as const),
          ),
      choose,
    ),
    choice('lot', say('group.give-lot'), select('wax', say('group.wax'), waxes), choose),
  ].join('');
}

const input = (name: string, label: string, hint: string, fields: Fields, kind = 'text'): string =>
  `<p><label for="${escapeHtml(name)}">${label}</label><input id="${escapeHtml(name)}" name="${escapeHtml(name)}" value="${escapeHtml(fields[name] ?? '')}"${
    kind === 'number' ? ' inputmode="decimal"' : ` type="${kind}"`
  } maxlength="80">${hint === '' ? '' : ` <span class="dim">${hint}</span>`}</p>`;

/** Null where there is no such wax or rule. */
function figureInputs(subject: OfferSubject, fields: Fields, language: string): string | null {
  const say = sayIn(language);
  const value = (name: string, label: string, hint: string): string =>
    input(`value.${name}`, label, hint, fields, 'number');
  if (subject.what === 'rule') {
    const { place, rule } = subject;
    const definition = ownEntry(RULES, rule);
    const rules = RULES_BY_PLACE.at(PLACES.find((listed) => listed === place) ?? 'lab');
    if (definition === undefined || ownEntry(rules, rule) === undefined) return null;
    const bounds = Object.entries(definition.parameters)
      .filter(([name]) => placesOf(definition, name).some((listed) => listed === place))
      .map(([name, { default: usual, high, low }]) => {
        const [from, to, now] = [low, high, usual].map((figure) => figureValue(language, figure));
        return value(
          name,
          figureName(language, rule, name),
          say('group.give-bounds', { low: from ?? '', high: to ?? '', usual: now ?? '' }),
        );
      });
    const switching = definition.mayBeSwitchedOff
      ? `<p>${select('enabled', say('group.rule-enabled'), [
          ['', say('group.give-as-is')],
          ['on', say('group.on')],
          ['off', say('group.off')],
        ])}</p>`
      : '';
    return bounds.join('') + switching;
  }
  const wax = findWaxClassId(subject.wax);
  if (wax === undefined) return null;
  const usual = (name: string): string =>
    say('group.give-usual', {
      value: waxValue(language, name, waxValueAt(waxClass(wax), name)?.value ?? null),
    });
  const inputs = (names: readonly string[]): string =>
    names.map((name) => value(name, valueName(language, wax, name), usual(name))).join('');
  const onSheets = sheetValueNames(wax);
  const values = inputs(onSheets);
  if (subject.what === 'wax') {
    const rest = waxValueNames(wax).filter((name) => !onSheets.includes(name));
    return `${values}<details><summary>${say('group.give-more')}</summary>${inputs(rest)}</details>`;
  }
  return [
    input('maker', say('group.maker'), '', fields),
    input('lot', say('group.lot-number'), '', fields),
    input('expires_on', say('group.expires'), '', fields, 'date'),
    `<h2>${say('group.give-sheet')}</h2>`,
    values,
  ].join('');
}

const subjectTitle = (subject: OfferSubject, language: string): string => {
  if (subject.what === 'rule')
    return `${placeName(language, subject.place)}: ${ruleName(language, subject.rule)}`;
  return `${sayIn(language)(subject.what === 'lot' ? 'group.give-lot' : 'group.give-wax')}: ${waxName(language, subject.wax)}`;
};

const subjectFields = (subject: OfferSubject): string =>
  Object.entries(subject)
    .map(([name, value]) => `<input type="hidden" name="${name}" value="${escapeHtml(value)}">`)
    .join('');

/** Null where there is no such wax or rule. */
export function entryPage(
  subject: OfferSubject,
  labs: readonly OfferedLab[],
  fields: Fields,
  trouble: FormTrouble | null,
  language: string,
): string | null {
  const say = sayIn(language);
  const inputs = figureInputs(subject, fields, language);
  if (inputs === null) return null;
  const boxes = labs.map(
    ({ name, site }) =>
      `<label class="tick"><input type="checkbox" name="site.${escapeHtml(site)}"${fields[`site.${site}`] === undefined ? '' : ' checked'}> ${escapeHtml(name)}</label>`,
  );
  return `<h1>${subjectTitle(subject, language)}</h1>
${trouble === null ? '' : `<p role="alert" class="silent">${say(`group.give-trouble-${trouble}`)}</p>`}
<form method="post" action="/give/preview">${subjectFields(subject)}<p>${say('group.give-empty')}</p>${inputs}
<p class="dim">${say('group.give-caution')}</p>
<fieldset><legend>${say('group.labs')}</legend>${labs.length === 0 ? `<p>${say('group.none')}</p>` : boxes.join('')}</fieldset>
<p><label for="note">${say('group.give-note')}</label><textarea id="note" name="note" rows="3" maxlength="1000">${escapeHtml(fields.note ?? '')}</textarea></p>
<button>${say('group.give-next')}</button></form>`;
}

const labPreview = ({ figures, name, site }: OfferedLab, item: OfferItem, language: string): string => {
  const say = sayIn(language);
  const head = `<h2>${labLink(site, name)}</h2>`;
  if (figures === null) return `${head}<p>${say('group.give-no-figures')}</p>`;
  const target = offerTarget(figures);
  const offered = { items: [item] };
  const problems = offerProblems(target, offered, RULES_BY_PLACE).map((found) =>
    escapeHtml(whatIsWrong(readerSay(language), found)),
  );
  if (problems.length > 0)
    return `${head}<p class="silent">${say('group.give-refused')} ${problems.join(' ')}</p>`;
  const changes = offerChanges(target, offered, RULES_BY_PLACE);
  if (changes.length === 0) return `${head}<p>${say('group.give-same')}</p>`;
  const heads = (['give-what', 'give-now', 'give-offered'] as const).map((key) => say(`group.${key}`));
  return (
    head +
    table(
      heads,
      changes.map((change) => changeCells(change, figures.stations, language)),
    )
  );
};

export function previewPage(
  subject: OfferSubject,
  labs: readonly OfferedLab[],
  item: OfferItem,
  fields: Fields,
  language: string,
): string {
  const say = sayIn(language);
  const hidden = Object.entries(fields).map(
    ([name, value]) => `<input type="hidden" name="${escapeHtml(name)}" value="${escapeHtml(value ?? '')}">`,
  );
  return `<h1>${say('group.give-preview')}</h1><p>${itemText(item, language)}</p>
<p>${say('group.give-decide')}</p><p class="dim">${say('group.give-caution')}</p>
<form method="post" action="/give/send">${hidden.join('')}<button>${say('group.give-send', { count: labs.length })}</button></form>
<form method="post" action="/give/change">${hidden.join('')}<button>${say('group.give-back')}</button></form>
<p class="dim">${subjectTitle(subject, language)}</p>
${labs.map((lab) => labPreview(lab, item, language)).join('')}`;
}

const answerText = (
  { answeredAt, answeredBy, name, site, state, timeZone }: SiteAnswer,
  language: string,
): string => {
  const say = sayIn(language);
  const answer = say(`group.offer-${state}` satisfies MessageKey);
  const at = answeredAt === null ? '' : `, ${escapeHtml(instant(answeredAt, language, timeZone))}`;
  const by = answeredBy === null ? '' : `, ${escapeHtml(answeredBy)}`;
  return `<li data-state="${state}">${labLink(site, name)}: ${answer}${at}${by}</li>`;
};

/** `mayGive`: also take back. */
export function offersPart(sent: readonly SentOffer[], mayGive: boolean, language: string): string {
  const say = sayIn(language);
  const cards = sent.map(({ answers, offer }) => {
    const isOpen = answers.some(({ state }) => state === 'open');
    const back =
      mayGive && isOpen
        ? `<form method="post" action="/give/take-back"><input type="hidden" name="offer" value="${escapeHtml(offer.id)}"><button>${say('group.give-take-back')}</button></form>`
        : '';
    const from = say('group.offer-from', {
      by: offer.by,
      at: instant(Date.parse(offer.offered_at), language, 'UTC'),
    });
    return `<li class="lab"><h3>${offer.items.map((item) => itemText(item, language)).join('<br>')}</h3><p class="dim">${from}</p>${
      offer.note === '' ? '' : `<p>${escapeHtml(offer.note)}</p>`
    }<ul>${answers.map((answer) => answerText(answer, language)).join('')}</ul>${back}</li>`;
  });
  return `<h2>${say('group.offers')}</h2>${cards.length === 0 ? `<p>${say('group.no-offers')}</p>` : `<ul class="labs">${cards.join('')}</ul>`}`;
}

export const notGiverPage = (language: string): string =>
  `<h1>${sayIn(language)('group.give')}</h1><p>${sayIn(language)('group.not-giver')}</p>`;
