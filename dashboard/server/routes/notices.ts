// Who is told, what lies in the outbox, and the link by which a notification acknowledges.

import { Type } from 'typebox';
import type { FastifyRequest } from 'fastify';
import type { Subscription } from '../../../alerts/notices/channels/subscriptions.ts';
import { OUTBOX_STATES, type OutboxRow } from '../../../alerts/notices/outbox/outbox-row.ts';
import { dutyEnd } from '../../../alerts/notices/duty/duty-end.ts';
import { whoIsTold } from '../../../alerts/notices/duty/who-is-told.ts';
import type { Lab } from '../../../lab/lab.ts';
import type { Person } from '../../../lab/person.ts';
import { type NotificationPlan, notificationPlanOf } from '../../../lab/notification-plan.ts';
import { notificationPlanContradictions } from '../../../lab/notification-plan-checks.ts';
import {
  LinkBody,
  LinkView,
  OutboxView,
  type ReachView,
  TellingBody,
  TellingView,
} from '../../api/telling.ts';
import type { App } from '../base/app.ts';
import { audited } from '../context/audited.ts';
import { iso } from '../base/instant.ts';
import { HttpProblem } from '../base/problem.ts';
import type { ServerContext } from '../context/server-context.ts';
import { mayDo } from '../sign-in/permissions.ts';
import { actorOf, permissionsOf } from '../sign-in/guard.ts';
import { perform } from './act.ts';
import { answers } from './answers.ts';

const refuseContradictions = (plan: NotificationPlan, lab: Lab): void => {
  const errors = notificationPlanContradictions(plan, lab).map(({ path, message }) => ({
    pointer: `/body/${path.join('/')}`,
    detail: message,
  }));
  const [first] = errors;
  if (first !== undefined)
    throw new HttpProblem('wrong-request', `${first.pointer}: ${first.detail}`, { errors });
};

const reachOf = (
  { id, name, role, email, morningHeartbeat, mail = 'no-phone' }: Person,
  phones: readonly Subscription[],
  isManager: boolean,
): ReachView => {
  const tests = phones.flatMap(({ testedAt }) => testedAt ?? []).sort((one, other) => one - other);
  const testedAt = tests.at(-1);
  return {
    ...{ id, name, role, mail, morningHeartbeat },
    phones: phones.length,
    phoneTestedAt: testedAt === undefined ? null : iso(testedAt),
    hasEmail: email !== null,
    email: isManager ? email : null,
  };
};

export const noticeRoutes = (app: App, context: ServerContext): void => {
  const { running, audit, options } = context;
  const { notices, repository } = running;
  const tags = ['notices'];
  const view = (request: FastifyRequest) => {
    const lab = running.lab();
    const plan = notificationPlanOf(lab);
    const isManager = permissionsOf(actorOf(request)).includes('set-up-lab');
    const now = running.now();
    const endsAt = dutyEnd(plan, lab, now);
    return {
      plan: structuredClone(plan) as TellingBody,
      isOwn: lab.notificationPlan !== undefined,
      onDuty: [...whoIsTold('on-duty', plan, lab, now)],
      dutyEndsAt: endsAt === null ? null : iso(endsAt),
      people: lab.people.map((person) => reachOf(person, notices.subscriptions.of(person.id), isManager)),
      mailIsSetUp: notices.mailIsSetUp,
      secrets: isManager
        ? Object.fromEntries(plan.webhooks.map(({ id }) => [id, notices.webhookSecret(id)]))
        : {},
    };
  };

  app.get(
    '/api/telling',
    {
      config: { needs: 'read' },
      schema: { tags, summary: 'Who is told of alarms', response: answers(TellingView) },
    },
    view,
  );
  app.put(
    '/api/telling',
    {
      config: { needs: 'set-up-lab' },
      schema: {
        tags,
        summary: 'Plan who is told of alarms',
        description:
          'The whole plan; it holds from the next alarm and the next minute of those that are open.',
        body: TellingBody,
        response: answers(TellingView),
      },
    },
    (request) => {
      const after: NotificationPlan = request.body;
      refuseContradictions(after, running.lab());
      options.database.transaction(() => {
        audited(audit, request, {
          action: 'telling-saved',
          entity: 'telling',
          entityId: 'plan',
          before: running.lab().notificationPlan ?? null,
          after,
        });
        repository.saveNotificationPlan(after);
      });
      return view(request);
    },
  );
  app.get(
    '/api/outbox',
    {
      config: { needs: 'read' },
      schema: {
        tags,
        summary: 'What was told, to whom, and what waits',
        description: 'Newest first.',
        querystring: Type.Object({
          limit: Type.Optional(Type.Integer({ minimum: 1, maximum: 500, default: 100 })),
          state: Type.Optional(Type.Enum([...OUTBOX_STATES])),
        }),
        response: answers(OutboxView),
      },
    },
    (request) => {
      const { people } = running.lab();
      const { webhooks } = notificationPlanOf(running.lab());
      const { limit = 100, state } = request.query;
      const receiver = ({ channel, person, address }: OutboxRow): string =>
        people.find(({ id }) => id === person)?.name ??
        person ??
        (channel === 'webhook' ? webhooks.find(({ id }) => id === address)?.name : undefined) ??
        address;
      return {
        counts: { ...notices.outbox.counts() },
        rows: notices.outbox.newest(limit, state).map((row) => ({
          ...{ number: row.number, channel: row.channel, kind: row.kind, state: row.state },
          to: receiver(row),
          alarm: row.body.alarm?.id ?? null,
          attempts: row.attempts,
          at: iso(row.body.at),
          nextAt: row.state === 'waiting' ? iso(row.nextAt) : null,
          endedAt: row.endedAt === null ? null : iso(row.endedAt),
          isRepeat: row.isRepeat,
          detail: row.detail,
        })),
      };
    },
  );
  app.post(
    '/api/acknowledge-by-link',
    {
      config: { needs: 'nothing' },
      schema: {
        tags,
        summary: 'Acknowledge from a notification',
        description:
          'The token of the notification: signed, for one raising of one alarm, once, for four hours.',
        body: LinkBody,
        response: answers(LinkView),
      },
    },
    async (request) => {
      const { token, alarm: named } = request.body;
      const link = notices.links.check(token, running.now());
      if (!link.ok) throw new HttpProblem('link-refused', link.problem.message, { code: link.problem.code });
      const { alarm: id, count, nonce, person: personId } = link.value;
      const alarm = running.alarm(id);
      const person = running.lab().people.find((one) => one.id === personId);
      if (alarm === null || (named !== undefined && named !== id) || alarm.count !== count)
        throw new HttpProblem(
          'link-refused',
          'This link belongs to another alarm. Open the alarm and acknowledge it there.',
          {
            code: 'link-other-alarm',
          },
        );
      if (person === undefined || !mayDo(person.role, 'handle-alarms'))
        throw new HttpProblem('link-refused', 'Whoever got this link may not acknowledge any more.', {
          code: 'link-person-gone',
        });
      // Marked before the act, so that of two at the same instant one is refused.
      if (!notices.links.use(nonce, running.now()))
        throw new HttpProblem('link-refused', 'This link was used already.', { code: 'link-used' });
      if (!alarm.acknowledged) {
        request.identity = {
          actor: { kind: 'person', person: person.id, name: person.name, role: person.role, session: '' },
          stillWelcome: () => false,
        };
        await perform(context, request, { type: 'acknowledge', alarm: id, by: person.name }, () =>
          running.alarm(id),
        );
      }
      return { alarm: id, acknowledgedBy: running.alarm(id)?.acknowledgedBy ?? null };
    },
  );
};
