// The pages of the group as documents: they work without a script, which only brings what changed sooner. Everything
// that a lab reported is text and is written as such.

import { alarmLine } from './alarm-line.ts';
import { escapeHtml, instant, labLink, sayIn } from './html.ts';
import { type LabNeed, NEEDS } from './lab-need.ts';

/** The worst of them; all are on the page of the lab. */
const CARD_ALARMS = 5;

const labCard = ({ lab, isSilent, alarms }: LabNeed, language: string): string => {
  const say = sayIn(language, lab.timeZone);
  const reported = instant(lab.reportedAt, language, lab.timeZone);
  return [
    `<li class="lab"><h3>${labLink(lab.site, lab.name)}</h3>`,
    isSilent ? `<p class="silent">${say('group.silent-since', { at: reported })}</p>` : '',
    alarms.length === 0
      ? ''
      : `<ul>${alarms
          .slice(0, CARD_ALARMS)
          .map((alarm) => alarmLine(alarm, lab, language))
          .join('')}</ul>`,
    alarms.length > CARD_ALARMS
      ? `<p>${say('group.more-alarms', { count: alarms.length - CARD_ALARMS })}</p>`
      : '',
    `<p class="dim">${say('group.stations', { count: lab.stations })}`,
    lab.unwell > 0 ? `; ${say('group.not-well', { count: lab.unwell })}` : '',
    isSilent ? '' : `; ${say('group.reported', { at: reported })}`,
    '</p></li>',
  ].join('');
};

/** The part of the page that changes. */
export function labsPart(labs: readonly LabNeed[], language: string): string {
  const say = sayIn(language);
  if (labs.length === 0) return `<p>${say('group.none')}</p>`;
  return NEEDS.map((need) => {
    const cards = labs.filter((lab) => lab.need === need).map((lab) => labCard(lab, language));
    if (cards.length === 0) return '';
    return `<section data-need="${need}"><h2>${say(`group.${need}`)} (${cards.length})</h2><ul class="labs">${cards.join('')}</ul></section>`;
  }).join('');
}

export type SignInTrouble = 'key-wrong' | 'provider-away' | 'provider-refused';

export function signInPage(language: string, hasProvider: boolean, trouble: SignInTrouble | null): string {
  const say = sayIn(language);
  return `<h1>${say('group.sign-in')}</h1>${trouble === null ? '' : `<p role="alert" class="silent">${say(`group.${trouble}`)}</p>`}
${hasProvider ? `<p><a class="button" href="/sign-in/provider">${say('group.provider')}</a></p>` : ''}<form method="post" action="/sign-in"><label for="key">${say('group.key')}</label>
<input id="key" name="key" type="password" autocomplete="current-password" required aria-describedby="hint">
<p id="hint" class="dim">${say('group.key-hint')}</p>
<button>${say('group.sign-in')}</button></form>`;
}

export const signedInPage = (language: string): string =>
  `<h1>${sayIn(language)('group.signed-in')}</h1><p><a href="/">${sayIn(language)('group.labs')}</a></p>`;

/** `person` is null before somebody has signed in. */
export function wholePage(main: string, language: string, person: string | null): string {
  const say = sayIn(language);
  const ways =
    person === null
      ? ''
      : `<nav><a href="/">${say('group.labs')}</a> <a href="/compare">${say('group.compare')}</a> <a href="/recall">${say('group.recall')}</a> <a href="/give">${say('group.give')}</a>
<form method="post" action="/sign-out"><span class="dim">${escapeHtml(person)}</span> <button>${say('group.sign-out')}</button></form></nav>`;
  return `<!doctype html><html lang="${language}"><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1"><title>${say('group.title')}</title>
<link rel="stylesheet" href="/group.css"><script src="/group.js" defer></script></head><body>
<header>${ways}</header><main>${main}</main><footer class="dim"><p>${say('group.informs')}</p><p>${say('caution.heater')}</p></footer></body></html>`;
}

export const awayPage = (language: string): string => `<h1>${sayIn(language)('group.away')}</h1>`;

export const unknownLabPage = (language: string): string =>
  `<h1>${sayIn(language)('group.unknown-lab')}</h1>`;

export const labsPage = (labs: readonly LabNeed[], language: string): string =>
  `<h1>${sayIn(language)('group.title')}</h1><p id="lost" class="silent" role="status" hidden>${sayIn(language)('group.lost')}</p><div id="labs" aria-live="polite">${labsPart(labs, language)}</div>`;
