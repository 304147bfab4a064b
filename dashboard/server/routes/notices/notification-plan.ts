// Who is notified of alarms: the plan, who is on duty, and how each person can be reached.

import type { FastifyRequest } from 'fastify';
import type { Subscription } from '../../../../alerts/notices/channels/subscriptions.ts';
import { dutyEnd } from '../../../../alerts/notices/duty/duty-end.ts';
import { recipientsOf } from '../../../../alerts/notices/duty/recipients.ts';
import type { Lab } from '../../../../lab/lab.ts';
import type { Person } from '../../../../lab/person.ts';
import { type NotificationPlan, notificationPlanOf } from '../../../../lab/notification-plan.ts';
import { notificationPlanContradictions } from '../../../../lab/lab-file/notification-plan-checks.ts';
import {
  type ReachView,
  NotificationPlanBody,
  NotificationPlanView,
} from '../../../api/notification-plan.ts';
import type { App } from '../../base/app.ts';
import { fieldOf, HttpProblem } from '../../base/problem.ts';
import { saveAudited } from '../../context/audit-change.ts';
import { tagVersion, versionOf } from '../../context/refuse-overwrite.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { withoutWebhookKeys, withStoredWebhookKeys, withWebhookDigests } from '../../context/webhook-keys.ts';
import { actorOf, permissionsOf } from '../../sign-in/guard.ts';
import { describeRoute } from '../common/describe-route.ts';
import { iso, isoOrNull } from '../../../../wax/iso.ts';

const refuseContradictions = (plan: NotificationPlan, lab: Lab): void => {
  const errors = notificationPlanContradictions(plan, lab).map(({ path, ...problem }) =>
    fieldOf(`/body/${path.join('/')}`, problem),
  );
  if (errors.length > 0) throw new HttpProblem('wrong-request', { errors });
};

const reachOf = (
  { id, name, role, email, morningHeartbeat, mail = 'no-phone' }: Person,
  phones: readonly Subscription[],
  isManager: boolean,
): ReachView => {
  const tests = phones.flatMap(({ testedAt }) => testedAt ?? []);
  return {
    id,
    name,
    role,
    mail,
    morningHeartbeat,
    phones: phones.length,
    phoneTestedAt: tests.length === 0 ? null : iso(Math.max(...tests)),
    hasEmail: email !== null,
    email: isManager ? email : null,
  };
};

const planView = ({ running, audit }: ServerContext, request: FastifyRequest): NotificationPlanView => {
  const { notices } = running;
  const lab = running.lab();
  const plan = notificationPlanOf(lab);
  const actor = actorOf(request);
  // A token that leaks must not hand out the keys of other services.
  const isManager = actor.kind === 'person' && permissionsOf(actor).includes('set-up-lab');
  const now = running.now();
  const endsAt = dutyEnd(plan, lab, now);
  return {
    version: versionOf(audit),
    plan: structuredClone(isManager ? plan : withoutWebhookKeys(plan)) as NotificationPlanBody,
    isOwn: lab.notificationPlan !== undefined,
    onDuty: [...recipientsOf('on-duty', plan, lab, now)],
    dutyEndsAt: isoOrNull(endsAt),
    people: lab.people.map((person) => reachOf(person, notices.subscriptions.of(person.id), isManager)),
    mailIsSetUp: notices.mailIsSetUp(),
    secrets: isManager
      ? Object.fromEntries(plan.webhooks.map(({ id }) => [id, notices.webhookSecret(id)]))
      : {},
    changeSecret: isManager ? notices.changeSecret : null,
  };
};

export const notificationPlan = (app: App, context: ServerContext): void => {
  const { running, audit } = context;
  app.get(
    '/api/notification-plan',
    describeRoute('read', 'notices', 'Who is notified of alarms', {
      response: { 200: NotificationPlanView },
    }),
    (request, reply) => {
      tagVersion(audit, reply);
      return planView(context, request);
    },
  );
  app.put(
    '/api/notification-plan',
    describeRoute('set-up-lab', 'notices', 'Plan who is notified of alarms', {
      description:
        'The whole plan; it holds from the next alarm and the next minute of those that are open. With `If-Match: "VERSION"`, the ' +
        '`version` that was read with it, it is refused where it would take back what somebody else saved since.',
      body: NotificationPlanBody,
      response: { 200: NotificationPlanView },
    }),
    (request) => {
      const after = withStoredWebhookKeys(request.body, notificationPlanOf(running.lab()));
      refuseContradictions(after, running.lab());
      const before = running.lab().notificationPlan;
      saveAudited(context, request, () => running.repository.saveNotificationPlan(after), {
        action: 'telling-saved',
        subject: ['telling', 'plan'],
        before: before === undefined ? null : withWebhookDigests(before),
        after: withWebhookDigests(after),
      });
      return planView(context, request);
    },
  );
};
