// What the pages of the group are written with. Everything that a lab reported is text and is escaped, and no sign that
// cannot be seen makes its name look like that of another lab.

import { makeVisible } from '../lab/visible-text.ts';
import { messageOf, sayTo } from '../words/load-languages.ts';
import type { MessageKey } from '../words/message-key.ts';
import type { ReaderSettings } from '../words/quantity.ts';

export const escapeHtml = (text: string): string =>
  makeVisible(text).replace(/[&<>"']/g, (sign) => `&#${sign.charCodeAt(0)};`);

const readerOf = (language: string): ReaderSettings => ({
  language,
  temperatureUnit: 'celsius',
  hourCycle: 'h23',
});

/** Not escaped. */
export const readerSay = (language: string, timeZone = 'UTC') => sayTo(readerOf(language), timeZone);

export const sayIn = (language: string, timeZone = 'UTC') => {
  const say = readerSay(language, timeZone);
  return (key: MessageKey, values: Record<string, string | number> = {}): string =>
    escapeHtml(say(key, values));
};

/** The name of a code of the lab in words, or the code of a newer version as it is. */
export const nameOfCode = (language: string, key: string, code: string): string =>
  escapeHtml(messageOf(language, key) ?? code);

/** One takes some 50 kB outside the heap, where the collector does not see it: a page of many labs needs hundreds. */
const formats = new Map<string, Intl.DateTimeFormat>();
/** More than there are zones and languages. A lab may name a zone in any case. */
const MOST_FORMATS = 1000;

/** @throws RangeError for a zone that there is not */
const formatOf = (language: string, timeZone: string): Intl.DateTimeFormat => {
  const key = `${language} ${timeZone}`;
  const ready = formats.get(key);
  if (ready !== undefined) return ready;
  const format = new Intl.DateTimeFormat(language, {
    dateStyle: 'medium',
    timeStyle: 'short',
    hourCycle: 'h23',
    timeZone,
  } as const);
  if (formats.size >= MOST_FORMATS) formats.clear();
  formats.set(key, format);
  return format;
};

/** Day and time where the lab is. */
export const instant = (at: number, language: string, timeZone: string): string => {
  try {
    return formatOf(language, timeZone).format(at);
  } catch {
    return `${formatOf(language, 'UTC').format(at)} UTC`;
  }
};

export const labLink = (site: string, name: string): string =>
  `<a href="/lab/${encodeURIComponent(site)}">${escapeHtml(name)}</a>`;

/** Of cells that are escaped; the first of each row is its head. On a phone each row is a list with its heads. */
export const table = (heads: readonly string[], rows: readonly (readonly string[])[]): string => {
  const body = rows.map(([head, ...cells]) => {
    const data = cells
      .map((cell, index) => `<td data-head="${heads[index + 1] ?? ''}">${cell}</td>`)
      .join('');
    return `<tr><th scope="row">${head}</th>${data}</tr>`;
  });
  const top = heads.map((head) => `<th scope="col">${head}</th>`).join('');
  return `<div class="wide"><table><thead><tr>${top}</tr></thead><tbody>${body.join('')}</tbody></table></div>`;
};
