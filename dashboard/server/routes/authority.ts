// The certificate of the lab's own authority and the page that shows how to trust it. Both are for everybody: they
// hold no secret, and whoever needs them cannot sign in yet.

import type { App } from '../base/app.ts';
import { authorityPage } from '../https/authority-page.ts';
import { CERTIFICATE_HEADERS, PAGE_HEADERS } from '../https/plain-server.ts';
import { languageOf } from '../base/language.ts';
import type { ServerContext } from '../context/server-context.ts';

export const authorityRoutes = (app: App, { options }: ServerContext): void => {
  const { authority } = options;
  if (authority === undefined || authority === null) return;
  const config = { needs: 'nothing' } as const;
  app.get('/authority.crt', { config, schema: { hide: true } }, (_request, reply) =>
    reply.headers(CERTIFICATE_HEADERS).send(Buffer.from(authority.certificate)),
  );
  app.get('/authority', { config, schema: { hide: true } }, (request, reply) =>
    reply
      .headers(PAGE_HEADERS)
      .send(authorityPage(authority, languageOf(undefined, request.headers['accept-language']), '/')),
  );
};
