// Set-up: the lab's own alloys and investments, with the figures of their makers.

import { Type } from 'typebox';
import type { CastingMaterial } from '../../../../lab/casting-material.ts';
import { CastingMaterialBody, CastingMaterialView } from '../../../api/casting.ts';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import { saveAudited } from '../../context/audit-change.ts';
import { tagVersion } from '../../context/refuse-overwrite.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { DONE, Done } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';

const MaterialId = Type.Object({
  id: Type.String({
    pattern: '^[a-z0-9][a-z0-9-]{0,39}$',
    description: 'Small letters, digits and `-`, at most 40',
  }),
});

export const castingMaterials = (app: App, context: ServerContext): void => {
  const { running, audit } = context;
  const all = (): readonly CastingMaterial[] => running.lab().castingMaterials ?? [];
  app.get(
    '/api/casting-materials',
    describeRoute('read', 'set-up', "The lab's own alloys and investments", {
      response: { 200: Type.Array(CastingMaterialView) },
    }),
    (_request, reply) => {
      tagVersion(audit, reply);
      return [...all()];
    },
  );
  app.put(
    '/api/casting-materials/:id',
    describeRoute('set-up-lab', 'set-up', "Add or change one of the lab's own alloys or investments", {
      params: MaterialId,
      body: CastingMaterialBody,
      response: { 200: CastingMaterialView },
    }),
    (request) => {
      const { id } = request.params;
      const after: CastingMaterial = { id, ...request.body };
      saveAudited(context, request, () => running.repository.saveCastingMaterial(after), {
        action: 'casting-material-saved',
        subject: ['casting-material', id],
        before: all().find((material) => material.id === id),
        after,
      });
      return after;
    },
  );
  app.delete(
    '/api/casting-materials/:id',
    describeRoute('set-up-lab', 'set-up', "Remove one of the lab's own alloys or investments", {
      description: 'Patterns that name it keep its id.',
      params: MaterialId,
      response: { 200: Done },
    }),
    (request) => {
      const { id } = request.params;
      const before = all().find((material) => material.id === id);
      if (before === undefined) throw new HttpProblem('unknown-casting-material', { values: { id } });
      saveAudited(context, request, () => running.repository.removeCastingMaterial(id), {
        action: 'casting-material-removed',
        subject: ['casting-material', id],
        before,
      });
      return DONE;
    },
  );
};
