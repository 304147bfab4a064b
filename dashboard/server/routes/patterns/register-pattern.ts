// A pattern is registered and gets the short id for its label.

import type { Static } from 'typebox';
import type { Pattern } from '../../../../lab/pattern.ts';
import { NewPatternBody, PatternView } from '../../../api/patterns.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import type { App } from '../../base/app.ts';
import { instantOf, iso } from '../../base/instant.ts';
import { fieldProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { actorName } from '../../sign-in/actor.ts';
import { actorOf } from '../../sign-in/guard.ts';
import { sayToReader } from '../../sign-in/reader.ts';
import { shortId } from '../../sign-in/secret.ts';
import { patternView } from '../../views/pattern-view.ts';
import { answers } from '../common/answers.ts';
import { findPattern, knownStorage, performOnPattern } from './known-pattern.ts';

const ID_LENGTH = 5;

const newId = (running: RunningLab): string => {
  const id = shortId(ID_LENGTH);
  return findPattern(running, id) === undefined ? id : newId(running);
};

/** What is known of its forming; nothing where nothing is. */
const formingOf = ({
  origin,
  softening,
  celsius,
}: Static<typeof NewPatternBody>): Pick<Pattern, 'forming'> => {
  const forming = {
    ...(origin !== undefined && { origin }),
    ...(softening !== undefined && { softening }),
    ...(celsius !== undefined && { celsius }),
  };
  return Object.keys(forming).length === 0 ? {} : { forming };
};

export const registerPattern = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.post(
    '/api/patterns',
    {
      config: { needs: 'tend-patterns' },
      schema: {
        tags: ['patterns'],
        summary: 'Register a pattern',
        description: 'Answers its short id for the label.',
        body: NewPatternBody,
        response: answers(PatternView),
      },
    },
    async (request) => {
      const { body } = request;
      const by = actorName(actorOf(request));
      const station = knownStorage(running, body.station);
      const madeAt = body.madeAt === undefined ? running.now() : instantOf(body.madeAt, '/body/madeAt');
      if (madeAt > running.now()) throw fieldProblem('/body/madeAt', 'field-in-the-future');
      const pattern: Pattern = {
        id: newId(running),
        caseReference: body.caseReference.trim(),
        wax: body.wax,
        technique: body.technique,
        length_millimetres: body.lengthMillimetres,
        tolerance_micrometres: body.toleranceMicrometres,
        madeAt: iso(madeAt),
        madeBy: by,
        stays: [{ station, from: iso(madeAt), to: null }],
        fate: null,
        ...(body.kind === 'denture-set-up' && { kind: body.kind }),
        ...(body.isMadeOnDie === true && { isMadeOnDie: true }),
        ...formingOf(body),
      };
      const act = { type: 'pattern-made', pattern: pattern.id, station, by } as const;
      await performOnPattern(context, request, act, pattern);
      return patternView(running, pattern, sayToReader(request, running));
    },
  );
};
