// What was sent, to whom, and what waits.

import { answerInEnglish } from '../../../../alerts/notices/texts/self-cause.ts';
import { Type } from 'typebox';
import { OUTBOX_STATES, type OutboxRow } from '../../../../alerts/notices/outbox/outbox-row.ts';
import type { Lab } from '../../../../lab/lab.ts';
import { notificationPlanOf } from '../../../../lab/notification-plan.ts';
import { type OutboxRowView, OutboxView } from '../../../api/outbox.ts';
import type { App } from '../../base/app.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { describeRoute } from '../common/describe-route.ts';
import { iso, isoOrNull } from '../../../../wax/iso.ts';

const receiver = (lab: Lab, { channel, person, address }: OutboxRow): string => {
  const name = lab.people.find(({ id }) => id === person)?.name ?? person;
  if (name !== null) return name;
  const webhook =
    channel === 'webhook' ? notificationPlanOf(lab).webhooks.find(({ id }) => id === address) : undefined;
  return webhook?.name ?? address;
};

const rowView = (row: OutboxRow, lab: Lab): OutboxRowView => ({
  number: row.number,
  channel: row.channel,
  kind: row.kind,
  state: row.state,
  to: receiver(lab, row),
  alarm: row.body.alarm?.id ?? null,
  attempts: row.attempts,
  at: iso(row.body.at),
  nextAt: row.state === 'waiting' ? iso(row.nextAt) : null,
  endedAt: isoOrNull(row.endedAt),
  isRepeat: row.isRepeat,
  answer: row.answer,
  detail: answerInEnglish(row.answer),
});

export const outbox = (app: App, { running }: ServerContext): void => {
  app.get(
    '/api/outbox',
    describeRoute('read', 'notices', 'What was sent, to whom, and what waits', {
      description: 'Newest first. What the broker took of changes for machines is not listed.',
      querystring: Type.Object({
        limit: Type.Optional(Type.Integer({ minimum: 1, maximum: 500, default: 100 })),
        state: Type.Optional(Type.Enum([...OUTBOX_STATES])),
        alarm: Type.Optional(
          Type.String({ maxLength: 300, description: 'Only what was sent of this alarm, by its id' }),
        ),
      }),
      response: { 200: OutboxView },
    }),
    (request) => {
      const { limit = 100, state, alarm } = request.query;
      const lab = running.lab();
      const { notices } = running;
      const rows =
        alarm === undefined
          ? notices.outbox.newest(limit, state)
          : notices.outbox
              .ofAlarm(alarm)
              .filter((row) => state === undefined || row.state === state)
              .slice(-limit)
              .reverse();
      return { counts: { ...notices.outbox.counts() }, rows: rows.map((row) => rowView(row, lab)) };
    },
  );
};
