// The recall across labs: a form for the lot, and what holds its wax.

import type { MessageKey } from '../words/message-key.ts';
import { escapeHtml, instant, labLink, nameOfCode, sayIn, table } from './html.ts';
import type { RecalledRecords } from './recall.ts';

const CHARGE_HEADS = ['lab', 'station', 'wax', 'charge-since', 'charge-state'] as const;
const PATTERN_HEADS = ['lab', 'pattern', 'wax', 'made', 'pattern-state', 'station'] as const;

const instantOf = (at: string, language: string, timeZone: string): string =>
  escapeHtml(instant(Date.parse(at), language, timeZone));

const chargesTable = ({ charges }: RecalledRecords, language: string): string => {
  const say = sayIn(language);
  const rows = charges.map(({ charge, ...held }) => [
    labLink(held.site, held.labName),
    escapeHtml(held.stationName ?? charge.station),
    nameOfCode(language, `wax.${charge.wax}`, charge.wax),
    instantOf(charge.started_at, language, held.timeZone),
    charge.ended_at === null
      ? say('group.in-the-pot')
      : say('group.ended', { at: instant(Date.parse(charge.ended_at), language, held.timeZone) }),
  ]);
  const heads = CHARGE_HEADS.map((head) => say(`group.${head}` satisfies MessageKey));
  return `<h2>${say('group.charges-of', { count: charges.length })}</h2>${charges.length === 0 ? '' : table(heads, rows)}`;
};

const patternsTable = ({ patterns }: RecalledRecords, language: string): string => {
  const say = sayIn(language);
  const rows = patterns.map(({ pattern, ...held }) => [
    labLink(held.site, held.labName),
    escapeHtml(pattern.case_reference ?? pattern.id),
    nameOfCode(language, `wax.${pattern.wax}`, pattern.wax),
    instantOf(pattern.made_at, language, held.timeZone),
    pattern.fate === null
      ? say('group.waiting')
      : `${nameOfCode(language, `fate.${pattern.fate.kind}`, pattern.fate.kind)}, ${instantOf(pattern.fate.at, language, held.timeZone)}`,
    escapeHtml(held.stationName ?? pattern.station ?? '') || say('group.nothing'),
  ]);
  const heads = PATTERN_HEADS.map((head) => say(`group.${head}` satisfies MessageKey));
  return `<h2>${say('group.patterns-of', { count: patterns.length })}</h2>${patterns.length === 0 ? '' : table(heads, rows)}`;
};

/** `found` is null before a search. */
export function recallPage(text: string, found: RecalledRecords | null, language: string): string {
  const say = sayIn(language);
  const form = `<form method="get" action="/recall" role="search"><label for="lot">${say('group.lot')}</label>
<input id="lot" name="lot" value="${escapeHtml(text)}" required maxlength="200" aria-describedby="hint"> <button>${say('group.search')}</button>
<p id="hint" class="dim">${say('group.recall-explain')}</p></form>`;
  const head = `<h1>${say('group.recall')}</h1>${form}`;
  if (found === null) return head;
  if (found.lots.length === 0) return `${head}<p role="status">${say('group.no-such-lot')}</p>`;
  const names = found.lots.map(({ maker, lot }) => escapeHtml(`${maker} ${lot}`)).join(', ');
  return [
    head,
    `<p role="status">${say('group.lots-found')} ${names}</p>`,
    found.isCut ? `<p class="silent">${say('group.recall-cut')}</p>` : '',
    chargesTable(found, language),
    patternsTable(found, language),
    `<p class="dim">${say('group.recall-limits')}</p>`,
  ].join('');
}
