// The lab's own bent-stick test: fits the readings, reports what they determine, and on request puts the values in as the
// lab's own. The server fits again before it applies, so only what follows from the readings can be put in.

import { Type } from 'typebox';
import type { Result } from '../../../../wax/result.ts';
import {
  calibrateRelaxation,
  calibrationOverrides,
} from '../../../../wax/relaxation/relaxation-calibration.ts';
import type { Celsius } from '../../../../wax/units.ts';
import { BentStickBody, BentStickView } from '../../../api/bent-stick.ts';
import type { App } from '../../base/app.ts';
import { changeLab } from '../../context/lab-change.ts';
import { asHttpProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { bentStickView } from '../../views/bent-stick-view.ts';
import { describeRoute } from '../common/describe-route.ts';
import { requireWaxClass } from './wax-classes.ts';

const orRefused = <T>(result: Result<T>): T => {
  if (result.ok) return result.value;
  throw asHttpProblem(result.problem);
};

export const bentStickRoutes = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.post(
    '/api/wax-classes/:id/bent-stick',
    describeRoute(
      'set-up-lab',
      'set-up',
      "Fit the lab's own bent-stick test of a wax, and put its values in on request",
      {
        description:
          'Sticks are softened, bent alike, cooled, laid at two temperatures or more, and their opening is read over ' +
          'hours. Answered are the values with errors, whether the readings fix them, and the curve of each stick. ' +
          'The refusal of a test bears its exact code, such as `too-few-readings` or `calibration-not-fixed`.',
        params: Type.Object({ id: Type.String({ maxLength: 40 }) }),
        body: BentStickBody,
        response: { 200: BentStickView },
      },
    ),
    (request) => {
      const id = requireWaxClass(request.params.id);
      const { sticks, readingError, apply = false, reason } = request.body;
      const calibration = orRefused(
        calibrateRelaxation({
          sticks: sticks.map(({ celsius, openings }) => ({ celsius: celsius as Celsius, openings })),
          ...(readingError === undefined ? {} : { readingError }),
        }),
      );
      if (apply) {
        const fitted = orRefused(calibrationOverrides(calibration));
        const lab = running.lab();
        const before = lab.waxOverrides[id] ?? {};
        const values = { ...before, ...fitted };
        const after = { ...lab, waxOverrides: { ...lab.waxOverrides, [id]: values } };
        changeLab(context, request, after, () => running.repository.saveWaxOverride(id, values), {
          action: 'bent-stick-applied',
          subject: ['wax-class', id],
          before,
          after: { ...values, sticks },
          reason,
        });
      }
      return bentStickView(calibration, { sticks }, apply);
    },
  );
};
