// To whom the night sheet goes by e-mail, and when.

import { NightDelivery, NightDeliveryView } from '../../../api/night-delivery.ts';
import { answerInEnglish } from '../../../../alerts/notices/texts/self-cause.ts';
import { openMailRecord } from '../../../reports/night/mail-record.ts';
import type { App } from '../../base/app.ts';
import { saveAudited } from '../../context/audit-change.ts';
import { HttpProblem } from '../../base/problem.ts';
import { tagVersion } from '../../context/refuse-overwrite.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { describeRoute } from '../common/describe-route.ts';
import { iso } from '../../../../wax/iso.ts';

export const nightDeliveryRoutes = (app: App, context: ServerContext): void => {
  const { running, options, audit } = context;
  const record = openMailRecord(options.database);
  const view = () => ({
    ...record.setting(),
    sent: record
      .newest()
      .map(({ date, person, state, attempts, at, answer }) => ({
        date,
        person,
        state,
        attempts,
        at: iso(at),
        answer,
        detail: answerInEnglish(answer),
      })),
  });
  app.get(
    '/api/night-delivery',
    describeRoute('read-audit', 'night', 'Who gets the night sheet by e-mail, when, and what was sent', {
      response: { 200: NightDeliveryView },
    }),
    (_request, reply) => {
      tagVersion(audit, reply);
      return view();
    },
  );
  app.put(
    '/api/night-delivery',
    describeRoute('set-up-lab', 'night', 'Set who gets the night sheet by e-mail, and when', {
      description: 'Needs a mail server, which whoever starts the program names.',
      body: NightDelivery,
      response: { 200: NightDeliveryView },
    }),
    (request) => {
      const { body } = request;
      const people = new Set(running.lab().people.map(({ id }) => id));
      const unknown = body.recipients.find((id) => !people.has(id));
      if (unknown !== undefined) throw new HttpProblem('unknown-person', { values: { id: unknown } });
      const before = record.setting();
      saveAudited(context, request, () => record.change(body), {
        action: 'night-post-changed',
        subject: ['night-post', 'night-post'],
        before,
        after: body,
      });
      return view();
    },
  );
};
