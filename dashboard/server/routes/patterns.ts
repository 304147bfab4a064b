// Patterns: registered, moved from place to place, ended as invested, remade or discarded.

import { Type } from 'typebox';
import type { FastifyRequest } from 'fastify';
import type { PatternAct } from '../../../lab/act.ts';
import type { Pattern } from '../../../lab/pattern.ts';
import { stores } from '../../../lab/station-kinds.ts';
import { type EpochMillis, epochMillis } from '../../../wax/units.ts';
import {
  EndPatternBody,
  MovePatternBody,
  NewPatternBody,
  PatternView,
  ResumePatternBody,
} from '../../api/patterns.ts';
import type { App } from '../base/app.ts';
import { instantOf, iso } from '../base/instant.ts';
import { HttpProblem } from '../base/problem.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import type { ServerContext } from '../context/server-context.ts';
import { actorName } from '../sign-in/actor.ts';
import { actorOf } from '../sign-in/guard.ts';
import { shortId } from '../sign-in/secret.ts';
import { byTimeLeft, patternView } from '../views/pattern-view.ts';
import { perform } from './act.ts';
import { answers } from './answers.ts';
import { knownStation } from './stations.ts';

export const PatternId = Type.Object({
  id: Type.String({ maxLength: 20, description: 'Short id of the pattern' }),
});
const ID_LENGTH = 5;
const MOST_PATTERNS = 2000;

const find = (running: RunningLab, id: string): Pattern | undefined =>
  running.lab().patterns.find((one) => one.id === id) ??
  running.repository.allPatterns(Number.MAX_SAFE_INTEGER).find((one) => one.id === id);

export const knownPattern = (running: RunningLab, id: string): Pattern => {
  const pattern = find(running, id.toUpperCase());
  if (pattern === undefined) throw new HttpProblem('unknown-pattern', `There is no pattern "${id}".`);
  return pattern;
};

export const patternRoutes = (app: App, context: ServerContext): void => {
  const { running } = context;
  const { repository } = running;
  const config = { needs: 'tend-patterns' } as const;
  const tags = ['patterns'];

  const known = (id: string): Pattern => knownPattern(running, id);
  const waiting = (id: string): Pattern => {
    const pattern = known(id);
    if (pattern.fate !== null)
      throw new HttpProblem('pattern-ended', `${id} was ${pattern.fate.kind} already.`);
    return pattern;
  };
  const storage = (id: string): string => {
    const station = knownStation(running, id);
    if (!stores(station.kind))
      throw new HttpProblem(
        'not-a-storage-place',
        `${station.name} is a ${station.kind}; name a cabinet, shelf or room.`,
      );
    return station.id;
  };
  const newId = (): string => {
    const id = shortId(ID_LENGTH);
    return find(running, id) === undefined ? id : newId();
  };
  const closed = (pattern: Pattern, at: string): Pattern['stays'] =>
    pattern.stays.map((stay) => (stay.to === null ? { ...stay, to: at } : stay));
  const by = (request: FastifyRequest): string => actorName(actorOf(request));
  /** Not before it was laid where it lies, not in the future. */
  const movedAt = (pattern: Pattern, asked: string | undefined): EpochMillis => {
    if (asked === undefined) return running.now();
    const laid = Date.parse(pattern.stays.at(-1)?.from ?? pattern.madeAt);
    return epochMillis(Math.min(running.now(), Math.max(laid, instantOf(asked, '/body/at'))));
  };

  app.get(
    '/api/patterns',
    {
      config: { needs: 'read' },
      schema: {
        tags,
        summary: 'Patterns by the time that is left',
        description:
          '`state=waiting` gives those that wait to be invested; `state=all` ended ones after them.',
        querystring: Type.Object({
          state: Type.Optional(
            Type.Union([Type.Literal('waiting'), Type.Literal('all')], { default: 'waiting' }),
          ),
          limit: Type.Optional(Type.Integer({ minimum: 1, maximum: MOST_PATTERNS, default: 500 })),
        }),
        response: answers(Type.Array(PatternView)),
      },
    },
    (request) => {
      const { state = 'waiting', limit = 500 } = request.query;
      const patterns = state === 'waiting' ? running.lab().patterns : repository.allPatterns(MOST_PATTERNS);
      return patterns
        .map((pattern) => patternView(running, pattern))
        .sort(byTimeLeft)
        .slice(0, limit);
    },
  );
  app.get(
    '/api/patterns/:id',
    {
      config: { needs: 'read' },
      schema: {
        tags,
        summary: 'One pattern and where it lay',
        params: PatternId,
        response: answers(PatternView),
      },
    },
    (request) => patternView(running, known(request.params.id)),
  );
  /** Journals the act, and writes the pattern down as it is after it. */
  const keep = (request: FastifyRequest, act: PatternAct, pattern: Pattern): Promise<void> =>
    perform(
      context,
      request,
      act,
      () => find(running, pattern.id) ?? null,
      () => repository.savePattern(pattern),
    );
  app.post(
    '/api/patterns',
    {
      config,
      schema: {
        tags,
        summary: 'Register a pattern',
        description: 'Answers its short id for the label.',
        body: NewPatternBody,
        response: answers(PatternView),
      },
    },
    async (request) => {
      const { body } = request;
      const station = storage(body.station);
      const madeAt = body.madeAt === undefined ? running.now() : instantOf(body.madeAt, '/body/madeAt');
      if (madeAt > running.now())
        throw new HttpProblem('wrong-request', 'A pattern cannot be made in the future.', {
          errors: [{ pointer: '/body/madeAt', detail: 'lies in the future' }],
        });
      const pattern: Pattern = {
        id: newId(),
        caseReference: body.caseReference.trim(),
        wax: body.wax,
        technique: body.technique,
        length_millimetres: body.lengthMillimetres,
        tolerance_micrometres: body.toleranceMicrometres,
        madeAt: iso(madeAt),
        madeBy: by(request),
        stays: [{ station, from: iso(madeAt), to: null }],
        fate: null,
      };
      const act = { type: 'pattern-made', pattern: pattern.id, station, by: by(request) } as const;
      await keep(request, act, pattern);
      return patternView(running, pattern);
    },
  );
  app.post(
    '/api/patterns/:id/move',
    {
      config,
      schema: {
        tags,
        summary: 'Say that a pattern lies somewhere else now',
        params: PatternId,
        body: MovePatternBody,
        response: answers(PatternView),
      },
    },
    async (request) => {
      const before = waiting(request.params.id);
      const station = storage(request.body.station);
      if (before.stays.at(-1)?.station === station) return patternView(running, before);
      const at = iso(movedAt(before, request.body.at));
      const after = { ...before, stays: [...closed(before, at), { station, from: at, to: null }] };
      const act = { type: 'pattern-moved', pattern: before.id, station, by: by(request) } as const;
      await keep(request, act, after);
      return patternView(running, after);
    },
  );
  app.post(
    '/api/patterns/:id/end',
    {
      config,
      schema: {
        tags,
        summary: 'Say that a pattern was invested, remade or discarded, and why',
        params: PatternId,
        body: EndPatternBody,
        response: answers(PatternView),
      },
    },
    async (request) => {
      const before = waiting(request.params.id);
      const { fate, reason } = request.body;
      const at = iso(running.now());
      const after = {
        ...before,
        stays: closed(before, at),
        fate: { kind: fate, at, by: by(request), reason },
      };
      const act = { type: 'pattern-ended', pattern: before.id, fate, reason, by: by(request) } as const;
      await keep(request, act, after);
      return patternView(running, after);
    },
  );
  app.post(
    '/api/patterns/:id/resume',
    {
      config,
      schema: {
        tags,
        summary: 'Take back that a pattern ended: it waits again where it lay',
        params: PatternId,
        body: ResumePatternBody,
        response: answers(PatternView),
      },
    },
    async (request) => {
      const before = known(request.params.id);
      if (before.fate === null) return patternView(running, before);
      const { reason } = request.body;
      // It lay there all the while, so its stay goes on and nothing of its heat is left out.
      const stays = before.stays.map((stay, index) =>
        index === before.stays.length - 1 ? { ...stay, to: null } : stay,
      );
      const after = { ...before, stays, fate: null };
      const act = { type: 'pattern-resumed', pattern: before.id, reason, by: by(request) } as const;
      await keep(request, act, after);
      return patternView(running, after);
    },
  );
};
