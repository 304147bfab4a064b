// Bodies are JSON and nothing else: what a plain form of a foreign page can send is refused at the door.

import { hasInvisibleSigns } from '../../lab/visible-text.ts';
import { reasonOf } from '../../wax/problem-error.ts';
import type { App } from './base/app.ts';
import { fieldProblem, HttpProblem } from './base/problem.ts';

/** Typed by one person for one person; any sign may be in it. */
const SECRET_FIELDS: ReadonlySet<string> = new Set(['password', 'newPassword']);

/** Walks without recursion: a body may be nested as deep as it is long. */
function refuseInvisibleSigns(body: unknown): void {
  const left: { readonly value: unknown; readonly pointer: string }[] = [{ value: body, pointer: '/body' }];
  for (let part = left.pop(); part !== undefined; part = left.pop()) {
    const { value, pointer } = part;
    if (typeof value === 'string' && hasInvisibleSigns(value))
      throw fieldProblem(pointer, 'field-invisible-characters');
    if (typeof value !== 'object' || value === null) continue;
    for (const [key, inner] of Object.entries(value)) {
      if (hasInvisibleSigns(key)) throw fieldProblem(pointer, 'field-invisible-characters');
      if (!SECRET_FIELDS.has(key)) left.push({ value: inner, pointer: `${pointer}/${key}` });
    }
  }
}

/** Strict: a body in another encoding would else be taken with signs in it that nobody typed. */
const UTF_8 = new TextDecoder('utf-8', { fatal: true });

export const jsonBodies = (app: App): void => {
  // A missing body counts as an empty object, so that an act without fields needs none.
  app.addHook('preValidation', async (request) => {
    if (request.method !== 'GET' && request.method !== 'HEAD') request.body ??= {};
    refuseInvisibleSigns(request.body);
  });
  app.removeAllContentTypeParsers();
  app.addContentTypeParser('application/json', { parseAs: 'buffer' }, (request, body, done) => {
    const { 'content-encoding': coding = 'identity' } = request.headers;
    // Nothing is unpacked here (RFC 9110, 8.4).
    if (coding.toLowerCase() !== 'identity') return done(new HttpProblem('wrong-media-type'));
    if (body.length === 0) return done(null, undefined);
    try {
      done(null, JSON.parse(UTF_8.decode(body as Buffer)));
    } catch (cause) {
      done(new HttpProblem('malformed-json', { values: { reason: reasonOf(cause).slice(0, 200) } }));
    }
  });
};
