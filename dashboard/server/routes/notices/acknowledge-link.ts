// The link by which a notification acknowledges its alarm.

import type { LinkFacts } from '../../../../alerts/notices/channels/acknowledge-link.ts';
import type { Alarm } from '../../../../alerts/watch/life/alarm.ts';
import type { Person } from '../../../../lab/person.ts';
import { LinkBody, LinkView } from '../../../api/phones.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import type { App } from '../../base/app.ts';
import { asHttpProblem, HttpProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { mayDo } from '../../sign-in/permissions.ts';
import { perform } from '../common/act.ts';
import { describeRoute } from '../common/describe-route.ts';

/** The alarms that the notification named, as they came then. */
const findNamed = (
  { notices }: RunningLab,
  link: LinkFacts,
): readonly Pick<LinkFacts, 'alarm' | 'count'>[] =>
  link.rows === undefined
    ? [link]
    : notices.outbox
        .byNumber(link.rows)
        .flatMap(({ body: { alarm } }) => (alarm === null ? [] : [{ alarm: alarm.id, count: alarm.count }]));

/** `named` is the alarm that the notification shows; absent where it names none. */
const meant = (running: RunningLab, link: LinkFacts, named: string | undefined): [Alarm[], Person] => {
  const alarms = findNamed(running, link).flatMap(({ alarm: id, count }) => {
    const alarm = running.alarm(id);
    return alarm !== null && alarm.count === count ? [alarm] : [];
  });
  if (alarms.length === 0 || (named !== undefined && named !== link.alarm))
    throw new HttpProblem('link-other-alarm');
  const person = running.lab().people.find(({ id }) => id === link.person);
  if (person === undefined || !mayDo(person.role, 'handle-alarms')) throw new HttpProblem('link-person-gone');
  return [alarms, person];
};

export const acknowledgeByLink = (app: App, context: ServerContext): void => {
  const { running } = context;
  const { links } = running.notices;
  app.post(
    '/api/acknowledge-by-link',
    describeRoute('nothing', 'notices', 'Acknowledge from a notification', {
      description:
        'The token of the notification: signed, for one raising of each alarm that it names, once, for four hours.',
      body: LinkBody,
      response: { 200: LinkView },
    }),
    async (request) => {
      const link = links.check(request.body.token, running.now());
      if (!link.ok) throw asHttpProblem(link.problem);
      const [alarms, person] = meant(running, link.value, request.body.alarm);
      // Marked before the act, so that of two at the same instant one is refused.
      if (!links.use(link.value.nonce, running.now())) throw new HttpProblem('link-used');
      request.identity = {
        actor: { kind: 'person', person: person.id, name: person.name, role: person.role, session: '' },
        stillWelcome: () => false,
      };
      for (const { id } of alarms.filter(({ acknowledged }) => !acknowledged)) {
        const act = { type: 'acknowledge', alarm: id, by: person.name } as const;
        await perform(context, request, act, () => running.alarm(id));
      }
      const { alarm } = link.value;
      return { alarm, acknowledgedBy: running.alarm(alarm)?.acknowledgedBy ?? null };
    },
  );
};
