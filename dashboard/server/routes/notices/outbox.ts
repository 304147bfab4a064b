// What was sent, to whom, and what waits.

import { answerInEnglish } from '../../../../alerts/notices/texts/self-cause.ts';
import { Type } from 'typebox';
import { OUTBOX_STATES, type OutboxRow } from '../../../../alerts/notices/outbox/outbox-row.ts';
import type { Lab } from '../../../../lab/lab.ts';
import { notificationPlanOf } from '../../../../lab/notification-plan.ts';
import { OutboxView } from '../../../api/outbox.ts';
import type { App } from '../../base/app.ts';
import { iso, isoOrNull } from '../../base/instant.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { answers } from '../common/answers.ts';

const receiver = (lab: Lab, { channel, person, address }: OutboxRow): string => {
  const name = lab.people.find(({ id }) => id === person)?.name ?? person;
  if (name !== null) return name;
  const webhook =
    channel === 'webhook' ? notificationPlanOf(lab).webhooks.find(({ id }) => id === address) : undefined;
  return webhook?.name ?? address;
};

export const outbox = (app: App, { running }: ServerContext): void => {
  app.get(
    '/api/outbox',
    {
      config: { needs: 'read' },
      schema: {
        tags: ['notices'],
        summary: 'What was sent, to whom, and what waits',
        description: 'Newest first.',
        querystring: Type.Object({
          limit: Type.Optional(Type.Integer({ minimum: 1, maximum: 500, default: 100 })),
          state: Type.Optional(Type.Enum([...OUTBOX_STATES])),
        }),
        response: answers(OutboxView),
      },
    },
    (request) => {
      const { limit = 100, state } = request.query;
      const lab = running.lab();
      const { notices } = running;
      return {
        counts: { ...notices.outbox.counts() },
        rows: notices.outbox.newest(limit, state).map((row) => ({
          ...{ number: row.number, channel: row.channel, kind: row.kind, state: row.state },
          to: receiver(lab, row),
          alarm: row.body.alarm?.id ?? null,
          attempts: row.attempts,
          at: iso(row.body.at),
          nextAt: row.state === 'waiting' ? iso(row.nextAt) : null,
          endedAt: isoOrNull(row.endedAt),
          isRepeat: row.isRepeat,
          answer: row.answer,
          detail: answerInEnglish(row.answer),
        })),
      };
    },
  );
};
