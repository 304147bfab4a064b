// Who was shown which procedure, when and by whom.

import { Type } from 'typebox';
import { TrainingBody, TrainingList, TrainingView, WithdrawTrainingBody } from '../../../api/training.ts';
import { localDate } from '../../../reports/night/night-span.ts';
import { openTrainingRecords } from '../../../reports/evidence/training-record.ts';
import type { App } from '../../base/app.ts';
import { fieldProblem, HttpProblem } from '../../base/problem.ts';
import { auditChange, saveAudited } from '../../context/audit-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { describeRoute } from '../common/describe-route.ts';
import { isDay } from '../common/is-day.ts';
import { requirePerson } from '../people/person-of-request.ts';
import { signerOf } from './signer.ts';

export const trainingRoutes = (app: App, context: ServerContext): void => {
  const { running, options, audit } = context;
  const records = openTrainingRecords(options.database);
  app.get(
    '/api/training',
    describeRoute('read', 'evidence', 'Who was shown which procedure, newest day first', {
      response: { 200: TrainingList },
    }),
    () => ({
      people: running.lab().people.map(({ id, name }) => ({ id, name })),
      records: [...records.all()],
    }),
  );
  app.post(
    '/api/training',
    describeRoute('tend-stations', 'evidence', 'Record that a person was shown a procedure', {
      description: 'Signed by whoever sends it, who must be a person; it is never changed.',
      body: TrainingBody,
      response: { 200: TrainingView },
    }),
    (request) => {
      const { person: id, procedure, edition, day } = request.body;
      const shownBy = signerOf(request);
      const person = requirePerson(running, id);
      if (!isDay(day)) throw fieldProblem('/body/day', 'field-not-a-day');
      if (day > localDate(running.lab().site, running.now()))
        throw fieldProblem('/body/day', 'field-in-the-future');
      const written = edition?.trim() ?? '';
      return options.database.transaction(() => {
        const added = records.add({
          person: person.id,
          name: person.name,
          procedure: procedure.trim(),
          edition: written === '' ? null : written,
          day,
          shownBy,
          at: running.now(),
        });
        auditChange(audit, request, {
          action: 'training-recorded',
          subject: ['training', String(added.number)],
          after: added,
        });
        return added;
      });
    },
  );
  app.post(
    '/api/training/:number/withdraw',
    describeRoute('tend-stations', 'evidence', 'Withdraw a record of training that was written by mistake', {
      description: 'It stays to be read, with who withdrew it and why.',
      params: Type.Object({ number: Type.Integer({ minimum: 1 }) }),
      body: WithdrawTrainingBody,
      response: { 200: TrainingView },
    }),
    (request) => {
      const { number } = request.params;
      const by = signerOf(request);
      const before = records.byNumber(number);
      if (before === null) throw new HttpProblem('unknown-training', { values: { id: number } });
      if (before.withdrawn !== null) throw new HttpProblem('already-withdrawn');
      const reason = request.body.reason.trim();
      saveAudited(context, request, () => records.withdraw(number, by, running.now(), reason), {
        action: 'training-withdrawn',
        subject: ['training', String(number)],
        reason,
      });
      return records.byNumber(number) ?? before;
    },
  );
};
