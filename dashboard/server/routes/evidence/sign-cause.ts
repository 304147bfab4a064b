// Cause and correction of an alarm, signed by a person.

import { Type } from 'typebox';
import { CauseBody, CauseRecord } from '../../../api/evidence.ts';
import { openCauseRecords } from '../../../reports/evidence/cause-record.ts';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import { saveAudited } from '../../context/audit-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { describeRoute } from '../common/describe-route.ts';
import { signerOf } from './signer.ts';

export const signCause = (app: App, context: ServerContext): void => {
  const { running, options } = context;
  const causes = openCauseRecords(options.database);
  app.post(
    '/api/alarms/:id/cause',
    describeRoute('handle-alarms', 'evidence', 'Sign the cause of an alarm and what was corrected', {
      description:
        'Only a person signs. What was signed before stays to be read; the newest record holds. Answers all of them.',
      params: Type.Object({ id: Type.String({ maxLength: 300 }) }),
      body: CauseBody,
      response: { 200: Type.Array(CauseRecord) },
    }),
    (request) => {
      const { id } = request.params;
      if (running.alarm(id) === null) throw new HttpProblem('unknown-alarm', { values: { id } });
      const by = signerOf(request);
      const signed = { cause: request.body.cause.trim(), correction: request.body.correction.trim() };
      const before = causes.of(id).at(-1);
      saveAudited(context, request, () => causes.sign(id, { ...signed, by, at: running.now() }), {
        action: 'cause-signed',
        subject: ['alarm', id],
        before: before === undefined ? null : { cause: before.cause, correction: before.correction },
        after: signed,
      });
      return [...causes.of(id)];
    },
  );
};
