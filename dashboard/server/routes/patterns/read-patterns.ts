// Patterns by the time that is left, and one pattern.

import { Type } from 'typebox';
import { sayTo } from '../../../../words/load-languages.ts';
import { PatternView } from '../../../api/patterns.ts';
import type { App } from '../../base/app.ts';
import { tagVersion } from '../../context/refuse-overwrite.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { AskedReader, readerOf } from '../../sign-in/reader.ts';
import { byTimeLeft, patternView } from '../../views/pattern-view.ts';
import { describeRoute } from '../common/describe-route.ts';
import { requirePattern, PatternId } from './pattern-of-request.ts';

const MOST_PATTERNS = 2000;

export const readPatterns = (app: App, { running, audit }: ServerContext): void => {
  app.get(
    '/api/patterns',
    describeRoute('read', 'patterns', 'Patterns by the time that is left', {
      description: '`state=waiting` gives those that wait to be invested; `state=all` ended ones after them.',
      querystring: Type.Object({
        state: Type.Optional(
          Type.Union([Type.Literal('waiting'), Type.Literal('all')], { default: 'waiting' }),
        ),
        limit: Type.Optional(Type.Integer({ minimum: 1, maximum: MOST_PATTERNS, default: 500 })),
        ...AskedReader,
      }),
      response: { 200: Type.Array(PatternView) },
    }),
    (request) => {
      const { state = 'waiting', limit = 500 } = request.query;
      const say = sayTo(readerOf(request, running, request.query), running.lab().site.timeZone);
      const patterns =
        state === 'waiting' ? running.lab().patterns : running.repository.allPatterns(MOST_PATTERNS);
      return patterns
        .map((pattern) => patternView(running, pattern, say))
        .sort(byTimeLeft)
        .slice(0, limit);
    },
  );
  app.get(
    '/api/patterns/:id',
    describeRoute('read', 'patterns', 'One pattern and where it lay', {
      params: PatternId,
      querystring: Type.Object(AskedReader),
      response: { 200: PatternView },
    }),
    (request, reply) => {
      const say = sayTo(readerOf(request, running, request.query), running.lab().site.timeZone);
      tagVersion(audit, reply);
      return patternView(running, requirePattern(running, request.params.id), say);
    },
  );
};
