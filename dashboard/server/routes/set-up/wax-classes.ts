// The wax classes with every figure and its standing, and the lab's own values over them.

import { Type } from 'typebox';
import { labsWaxClass } from '../../../../lab/limits.ts';
import { STATION_KINDS } from '../../../../lab/station-kinds.ts';
import { waxValueNames } from '../../../../wax/wax-class.ts';
import { findWaxClassId, WAX_CLASS_IDS, type WaxClassId } from '../../../../wax/classes/wax-class-id.ts';
import { LimitsView, WaxClassView, WaxOverridesBody } from '../../../api/lab-bodies.ts';
import type { App } from '../../base/app.ts';
import { changeLab } from '../../context/lab-change.ts';
import { HttpProblem } from '../../base/problem.ts';
import { waxFigureViews } from '../../../queries/source-view.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { limitsView } from '../../views/limits-view.ts';
import { describeRoute } from '../common/describe-route.ts';

const waxClassView = (running: RunningLab, id: WaxClassId): WaxClassView => {
  const lab = running.lab();
  const wax = labsWaxClass(id, lab);
  const figures = waxFigureViews(wax, waxValueNames(id));
  return { id, name: wax.name, figures, ownValues: { ...lab.waxOverrides[id] } };
};

export const requireWaxClass = (asked: string): WaxClassId => {
  const id = findWaxClassId(asked);
  if (id === undefined) throw new HttpProblem('unknown-wax-class', { values: { id: asked } });
  return id;
};

export const waxClassRoutes = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.get(
    '/api/wax-classes',
    describeRoute('read', 'set-up', 'The wax classes, every figure with its standing and source', {
      response: { 200: Type.Array(WaxClassView) },
    }),
    () => WAX_CLASS_IDS.map((id) => waxClassView(running, id)),
  );
  app.get(
    '/api/wax-classes/:id/limits',
    describeRoute(
      'read',
      'set-up',
      'The window and the ceiling that a kind of station would have with this wax',
      {
        params: Type.Object({ id: Type.String({ maxLength: 40 }) }),
        querystring: Type.Object({ kind: Type.Enum([...STATION_KINDS]) }),
        response: { 200: LimitsView },
      },
    ),
    (request) => {
      const { wax: _, ...limits } = limitsView(
        { id: 'not-there-yet', name: '', kind: request.query.kind, wax: requireWaxClass(request.params.id) },
        running.lab(),
      );
      return limits;
    },
  );
  app.put(
    '/api/wax-classes/:id/overrides',
    describeRoute('set-up-lab', 'set-up', "Set the lab's own values of a wax class", {
      description:
        'They are shown as "lab\'s own" wherever they count. Values that contradict each other are refused.',
      params: Type.Object({ id: Type.String({ maxLength: 40 }) }),
      body: WaxOverridesBody,
      response: { 200: WaxClassView },
    }),
    (request) => {
      const id = requireWaxClass(request.params.id);
      const lab = running.lab();
      const { values, reason } = request.body;
      const { [id]: before = {}, ...others } = lab.waxOverrides;
      const after = { ...lab, waxOverrides: { ...others, [id]: values } };
      changeLab(context, request, after, () => running.repository.saveWaxOverride(id, values), {
        action: 'wax-values-saved',
        subject: ['wax-class', id],
        before,
        after: values,
        reason,
      });
      return waxClassView(running, id);
    },
  );
};
