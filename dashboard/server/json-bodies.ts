// Bodies are JSON and nothing else: what a plain form of a foreign page can send is refused at the door.

import type { App } from './base/app.ts';
import { HttpProblem } from './base/problem.ts';

export const jsonBodies = (app: App): void => {
  // A missing body counts as an empty object, so that an act without fields needs none.
  app.addHook('preValidation', async (request) => {
    if (request.method !== 'GET' && request.method !== 'HEAD') request.body ??= {};
  });
  app.removeAllContentTypeParsers();
  app.addContentTypeParser('application/json', { parseAs: 'string' }, (_request, body, done) => {
    if (body === '') return done(null, undefined);
    try {
      done(null, JSON.parse(String(body)));
    } catch (cause) {
      const reason = cause instanceof Error ? cause.message : String(cause);
      done(new HttpProblem('malformed-json', { values: { reason: reason.slice(0, 200) } }));
    }
  });
};
