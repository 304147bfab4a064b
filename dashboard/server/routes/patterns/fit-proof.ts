// Measured fits against predictions: read, and taken as the lab's own value on request.

import { TECHNIQUES } from '../../../../lab/pattern.ts';
import { FitProofView, RecalibrateBody } from '../../../api/fit-proof.ts';
import type { App } from '../../base/app.ts';
import { asHttpProblem, fieldProblem } from '../../base/problem.ts';
import { changeLab } from '../../context/lab-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { fitProofView, recalibrationOf } from '../../views/fit-proof-view.ts';
import { describeRoute } from '../common/describe-route.ts';
import { requireWaxClass } from '../set-up/wax-classes.ts';

export const fitProof = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.get(
    '/api/fit-proof',
    describeRoute(
      'read',
      'patterns',
      'Measured fits beside what was predicted, and what the remakes had in common',
      { response: { 200: FitProofView } },
    ),
    () => fitProofView(running),
  );
  app.post(
    '/api/fit-proof/recalibrate',
    describeRoute(
      'set-up-lab',
      'patterns',
      "Take the strain that the lab's measurements speak for as the lab's own value",
      {
        description:
          'Sets the strain frozen in by the technique and the half width of its band. The audit trail has the values before.',
        body: RecalibrateBody,
        response: { 200: FitProofView },
      },
    ),
    (request) => {
      const { stage } = request.body;
      const wax = requireWaxClass(request.body.wax);
      const technique = TECHNIQUES.find((each) => each === request.body.technique);
      if (technique === undefined) throw fieldProblem('/body/technique', 'field-not-listed');
      const fitted = recalibrationOf(running, { wax, technique, stage });
      if (!fitted.ok) throw asHttpProblem(fitted.problem);
      const lab = running.lab();
      const before = lab.waxOverrides[wax] ?? {};
      const values = {
        ...before,
        [`relaxation.frozenStrain.${technique}`]: fitted.value.strain,
        'relaxation.spread.frozenStrainShare': fitted.value.spreadShare,
      };
      const after = { ...lab, waxOverrides: { ...lab.waxOverrides, [wax]: values } };
      changeLab(context, request, after, () => running.repository.saveWaxOverride(wax, values), {
        action: 'wax-values-saved',
        subject: ['wax-class', wax],
        before,
        after: values,
      });
      return fitProofView(running);
    },
  );
};
