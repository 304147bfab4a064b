// The page that hands out the authority's certificate: one document without a script, so that a phone that trusts
// nothing yet can read it. It is served over plain HTTP too and holds no secret.

import { createHash } from 'node:crypto';
import type { Authority } from './authority.ts';
import { escapeHtml } from '../base/escape-html.ts';
import type { MessageKey } from '../../../words/message-key.ts';
import { localeOf, messageOf } from '../../../words/load-languages.ts';

/** The values of the screens' own tokens; the page must work without any other file. */
const STYLE = `
:root { color-scheme: dark light; --ground: #16171a; --card: #1e2023; --lane: #34373c; --edge: #9a9da2; --ink: #f0ede7; --dim: #bab8b3 }
@media (prefers-color-scheme: light) { :root { --ground: #eeece8; --card: #fbfaf8; --lane: #dcdad4; --edge: #6b6c6e; --ink: #1b1c1e; --dim: #4e4f53 } }
body { margin: 0 auto; padding: 1.25rem; max-width: 44rem; background: var(--ground); color: var(--ink); font: 500 1.05rem/1.45 "Barlow Semi Condensed", "Arial Narrow", system-ui, sans-serif }
h1 { font-size: 1.9rem; line-height: 1.15 } h2 { font-size: 1.3rem; margin-block: 2rem 0.5rem }
.act { display: inline-flex; align-items: center; min-height: 3rem; padding: 0 1.1rem; border: 2px solid var(--edge); border-radius: 0.4rem; background: var(--card); color: inherit; text-decoration: none }
.act.first { border-color: var(--ink); background: var(--ink); color: var(--ground); font-weight: 600 }
.act:focus-visible, summary:focus-visible { outline: 3px solid var(--ink); outline-offset: 2px }
dl { padding: 1rem; background: var(--card) } dt { color: var(--dim) } dd { margin: 0 0 0.75rem; overflow-wrap: anywhere; font-variant-numeric: tabular-nums }
dd.hex { font-family: ui-monospace, monospace }
details { border-block-end: 1px solid var(--lane) } summary { min-height: 3rem; display: flex; align-items: center; font-weight: 600; cursor: pointer }
.dim { color: var(--dim) }
@media print { .act { display: none } }
`;

export const AUTHORITY_PAGE_POLICY = [
  "default-src 'none'",
  `style-src 'sha256-${createHash('sha256').update(STYLE).digest('base64')}'`,
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

const DEVICES = ['apple-phone', 'android', 'windows', 'mac', 'linux'] as const;
type AuthorityKey = MessageKey extends infer Key
  ? Key extends `authority.${infer Name}`
    ? Name
    : never
  : never;

/** `secureUrl` is where the lab is once the certificate is trusted. */
export function authorityPage(
  authority: Pick<Authority, 'fingerprint' | 'notAfter'>,
  language: string,
  secureUrl: string,
): string {
  const say = (key: AuthorityKey): string => escapeHtml(messageOf(language, `authority.${key}`) ?? '');
  const until = new Intl.DateTimeFormat(localeOf(language), { dateStyle: 'long', timeZone: 'UTC' }).format(
    authority.notAfter,
  );
  const devices = DEVICES.map((device) => {
    const steps = say(`device.${device}.steps`)
      .split('\n')
      .map((step) => `<li>${step}</li>`);
    return `<details><summary>${say(`device.${device}.name`)}</summary><ol>${steps.join('')}</ol></details>`;
  });
  return `<!doctype html>
<html lang="${language}"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>${say('title')}</title><style>${STYLE}</style></head>
<body><main><h1>${say('title')}</h1>
<p>${say('why')}</p>
<p><strong>${say('compare')}</strong></p>
<dl><dt>${say('fingerprint')}</dt><dd class="hex">${escapeHtml(authority.fingerprint)}</dd>
<dt>${say('until')}</dt><dd>${escapeHtml(until)}</dd></dl>
<p><a class="act first" href="/authority.crt">${say('download')}</a> <a class="act" href="${escapeHtml(secureUrl)}">${say('open')}</a></p>
<h2>${say('on-device')}</h2>
${devices.join('\n')}
<p class="dim">${say('undo')}</p></main></body></html>
`;
}
