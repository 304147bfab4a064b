// The description of the interface, OpenAPI 3.1, made from the schemas of the routes; nothing is written twice.

import fastifySwagger from '@fastify/swagger';
import type { App } from './base/app.ts';
import { TAGS } from './routes/common/describe-route.ts';
import { PERMISSIONS } from './sign-in/permissions.ts';

const INTRODUCTION = [
  'Temperatures of a dental laboratory’s wax: stations, probes, readings, alarms, patterns and charges.',
  'JSON throughout; instants are ISO 8601 in UTC; temperatures are degrees Celsius. Errors are problem documents',
  '(RFC 9457, `application/problem+json`) whose `code` is stable. Programs sign in with a token that a manager',
  'makes: `Authorization: Bearer ...`. Acts of the daily work take an `Idempotency-Key` header: sent again with',
  'the same key they are done once. Settings are read with an `ETag`; a change that sends it back as `If-Match` is',
  'refused where it would take back what was saved since. It informs; it is no safety cut-out and switches nothing.',
].join('\n');

export const openApi = (app: App, version: string): void => {
  app.register(fastifySwagger, {
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Waxwarden',
        version,
        description: INTRODUCTION,
        license: { name: 'MIT', identifier: 'MIT' },
      },
      tags: [...TAGS],
      components: {
        securitySchemes: {
          token: { type: 'http', scheme: 'bearer', description: 'Of a program; a manager makes it' },
          session: {
            type: 'apiKey',
            in: 'cookie',
            name: '__Host-waxwarden',
            description: 'Of a person, by signing in',
          },
        },
      },
    },
    transform: ({ schema, url, route }) => {
      const needs = route.config?.needs ?? 'nothing';
      const who = needs === 'nothing' ? 'everyone' : PERMISSIONS[needs].join(', ');
      const description = [schema?.description, `Needs \`${needs}\`: ${who}.`].filter(Boolean).join('\n\n');
      return {
        url,
        schema: {
          ...schema,
          description,
          operationId: `${String(route.method).toLowerCase()}${url.replace(/[^A-Za-z0-9]+/g, '-').replace(/-$/, '')}`,
          security: needs === 'nothing' ? [] : [{ token: [] }, { session: [] }],
          ...(url.startsWith('/api/') || url === '/metrics' ? {} : { hide: true }),
        },
      };
    },
    refResolver: {
      buildLocalReference: (json, _base, _fragment, index) => String(json.$id ?? `schema-${index}`),
    },
  });
};
