// What a pattern is invested in and cast from: alloy, powder and liquid with lots and ratio, ring, set and soak.

import { alloyShrinkage, investmentExpansion } from '../../../../lab/casting-material.ts';
import { CastingBody } from '../../../api/casting.ts';
import { PatternView } from '../../../api/patterns.ts';
import type { App } from '../../base/app.ts';
import { fieldProblem } from '../../base/problem.ts';
import { refuseOverwrite } from '../../context/refuse-overwrite.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { describeRoute } from '../common/describe-route.ts';
import { requirePattern, PatternId, performOnPattern } from './pattern-of-request.ts';

const refuseUnknown = ({ running }: ServerContext, { alloy, investment, furnace }: CastingBody): void => {
  const { castingMaterials = [], stations } = running.lab();
  if (alloy !== undefined && alloyShrinkage(alloy, castingMaterials) === null)
    throw fieldProblem('/body/alloy', 'unknown-casting-material', { id: alloy });
  if (investment !== undefined && investmentExpansion(investment, castingMaterials) === null)
    throw fieldProblem('/body/investment', 'unknown-casting-material', { id: investment });
  if (furnace !== undefined && stations.every(({ id }) => id !== furnace))
    throw fieldProblem('/body/furnace', 'unknown-station', { id: furnace });
};

export const patternCasting = (app: App, context: ServerContext): void => {
  const { running, audit } = context;
  app.put(
    '/api/patterns/:id/casting',
    describeRoute('tend-patterns', 'patterns', 'Record what a pattern is invested in and cast from', {
      description:
        'The whole record; a field that is absent is not recorded. Before or after it was invested.',
      params: PatternId,
      body: CastingBody,
      response: { 200: PatternView },
    }),
    async (request) => {
      const before = requirePattern(running, request.params.id);
      refuseUnknown(context, request.body);
      const after = { ...before, casting: request.body };
      // Before the journal holds it.
      refuseOverwrite(audit, request, { subject: ['pattern', before.id], before, after });
      return performOnPattern(context, request, { type: 'pattern-casting' }, after);
    },
  );
};
