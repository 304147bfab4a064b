// A readable page of the interface at /api/, drawn from its own description, without a script.

import type { App } from './base/app.ts';
import { escapeHtml } from './base/escape-html.ts';
import { TAGS } from './routes/common/describe-route.ts';
import { PROBLEMS } from '../../wax/problem-catalogue.ts';
import { messageOf } from '../../words/load-languages.ts';

const STYLE = `
:root { color-scheme: light dark; font: 16px/1.5 system-ui, sans-serif }
body { max-width: 54rem; margin: 2rem auto; padding: 0 1rem }
h1, h2 { line-height: 1.2 } h2 { margin-top: 2.5rem }
section { border-top: 1px solid color-mix(in srgb, currentColor 25%, transparent); padding: .75rem 0 }
h3 { font: 600 1rem/1.4 ui-monospace, monospace; margin: 0; overflow-wrap: anywhere }
p { margin: .25rem 0 } code { font-family: ui-monospace, monospace; font-size: .95em }
dl { display: grid; grid-template-columns: minmax(8rem, max-content) 1fr; gap: .25rem 1rem; margin: .5rem 0 }
dt { font-family: ui-monospace, monospace; overflow-wrap: anywhere } dd { margin: 0 }
`;

/** Backticks mark code in the descriptions; an empty line parts paragraphs. */
const prose = (text: string): string =>
  escapeHtml(text)
    .split('\n\n')
    .map((part) => `<p>${part.replace(/`([^`]+)`/g, '<code>$1</code>')}</p>`)
    .join('');

interface Field {
  readonly description?: string;
}
interface Operation {
  readonly tags?: readonly string[];
  readonly summary?: string;
  readonly description?: string;
  readonly parameters?: readonly (Field & { readonly name: string; readonly required?: boolean })[];
  readonly requestBody?: {
    readonly content?: Readonly<
      Record<
        string,
        {
          readonly schema?: {
            readonly properties?: Readonly<Record<string, Field>>;
            readonly required?: readonly string[];
          };
        }
      >
    >;
  };
}

const list = (rows: readonly (readonly [name: string, needed: boolean, description: string])[]): string =>
  rows.length === 0
    ? ''
    : `<dl>${rows
        .map(
          ([name, needed, description]) =>
            `<dt>${escapeHtml(name)}${needed ? '' : ' (optional)'}</dt><dd>${prose(description || '-')}</dd>`,
        )
        .join('')}</dl>`;

const section = (method: string, path: string, operation: Operation): string => {
  const body = operation.requestBody?.content?.['application/json']?.schema;
  const fields = [
    ...(operation.parameters ?? []).map(
      ({ name, required = false, description = '' }) => [name, required, description] as const,
    ),
    ...Object.entries(body?.properties ?? {}).map(
      ([name, { description = '' }]) => [name, body?.required?.includes(name) ?? false, description] as const,
    ),
  ];
  return `<section><h3>${method.toUpperCase()} ${escapeHtml(path)}</h3><p><strong>${escapeHtml(operation.summary ?? '')}</strong></p>${prose(operation.description ?? '')}${list(fields)}</section>`;
};

const page = (app: App): string => {
  const description = app.swagger();
  const operations = Object.entries(description.paths ?? {}).flatMap(([path, methods]) =>
    Object.entries(methods ?? {}).map(([method, operation]) => ({
      method,
      path,
      operation: operation as Operation,
    })),
  );
  const families = TAGS.map(
    ({ name, description: about }) =>
      `<h2 id="${name}">${escapeHtml(about)}</h2>${operations
        .filter(({ operation }) => operation.tags?.includes(name))
        .map(({ method, path, operation }) => section(method, path, operation))
        .join('')}`,
  );
  const problems = Object.entries(PROBLEMS)
    .filter(([, { status }]) => status !== null)
    .map(([code, { status }]) => {
      const text = (['title', 'do'] as const).map((part) => messageOf('en', `error.${code}.${part}`) ?? '');
      return `<section id="problem-${code}"><h3>${status} ${code}</h3><p>${escapeHtml(text.join(' '))}</p></section>`;
    });
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Waxwarden: interface</title><meta name="viewport" content="width=device-width"><link rel="stylesheet" href="/api/page.css"></head><body><main><h1>The interface of Waxwarden</h1>${prose(description.info.description ?? '')}<p>The whole as OpenAPI 3.1: <a href="/api/openapi.json">openapi.json</a></p>${families.join('')}<h2 id="problems">Problems</h2>${problems.join('')}</main></body></html>`;
};

/** What the interface looks like is no secret; what it answers is. */
export const apiPage = (app: App): void => {
  const config = { needs: 'nothing' } as const;
  const schema = { hide: true };
  let drawn: string | null = null;
  app.get('/api/openapi.json', { config, schema }, async (_request, reply) =>
    reply.type('application/json').send(JSON.stringify(app.swagger())),
  );
  app.get('/api/', { config, schema }, async (_request, reply) => {
    drawn ??= page(app);
    return reply.type('text/html; charset=utf-8').send(drawn);
  });
  app.get('/api', { config, schema }, async (_request, reply) => reply.redirect('/api/', 308));
  app.get('/api/page.css', { config, schema }, async (_request, reply) => reply.type('text/css').send(STYLE));
};
