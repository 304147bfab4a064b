// Set-up: whether and what this lab reports to its group. The password goes in and never comes out.

import { X509Certificate } from 'node:crypto';
import type { GroupLink, GroupLinkStatus } from '../../../../lab/group/group-link.ts';
import { groupTopic } from '../../../../lab/group/group-message.ts';
import { offersTopic } from '../../../../lab/group/group-offer.ts';
import { whatIsWrong } from '../../../../words/problem-text.ts';
import { GroupLinkBody, GroupLinkView } from '../../../api/group-link.ts';
import type { App } from '../../base/app.ts';
import { fieldProblem } from '../../base/problem.ts';
import { saveAudited } from '../../context/audit-change.ts';
import { tagVersion } from '../../context/refuse-overwrite.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { sayToReader } from '../../sign-in/reader.ts';
import { describeRoute } from '../common/describe-route.ts';
import { iso, isoOrNull } from '../../../../wax/iso.ts';

const isCertificate = (pem: string): boolean => {
  try {
    new X509Certificate(pem);
    return true;
  } catch {
    return false;
  }
};

const refuseContradictions = ({ isOn, url, authority }: GroupLinkBody): void => {
  if (isOn && !URL.canParse(url)) throw fieldProblem('/body/url', 'field-wrong-form', { form: 'broker' });
  if (authority !== '' && !isCertificate(authority))
    throw fieldProblem('/body/authority', 'field-wrong-form');
};

/** A stored password goes to no other broker, and to no other user, than it was entered for. */
const withPassword = ({ password, ...body }: GroupLinkBody, before: GroupLink): GroupLink => ({
  ...body,
  password: password ?? (body.url === before.url && body.user === before.user ? before.password : ''),
});

const withoutPassword = ({ password: _, ...shown }: GroupLink) => shown;

export const groupLinkRoutes = (app: App, context: ServerContext): void => {
  const { running, audit } = context;
  const { groupLink } = running;
  const statusView = (
    { problem, ...status }: GroupLinkStatus,
    say: ReturnType<typeof sayToReader>,
  ): GroupLinkView['status'] => ({
    ...status,
    since: iso(status.since),
    problem: problem === null ? null : whatIsWrong(say, problem),
    deliveredAt: isoOrNull(status.deliveredAt),
  });
  const view = (say: ReturnType<typeof sayToReader>): GroupLinkView => {
    const setting = groupLink.setting();
    const status = running.groupLinkStatus?.() ?? null;
    return {
      ...withoutPassword(setting),
      hasPassword: setting.password !== '',
      topics: groupTopic(running.lab().site.id, 'standing').replace(/standing$/, ''),
      offersTopic: offersTopic(running.lab().site.id),
      status: status === null ? null : statusView(status, say),
    };
  };

  app.get(
    '/api/group-link',
    describeRoute('set-up-lab', 'set-up', 'What this lab reports to its group, and the state of the link', {
      response: { 200: GroupLinkView },
    }),
    (request, reply) => {
      tagVersion(audit, reply);
      return view(sayToReader(request, running));
    },
  );
  app.put(
    '/api/group-link',
    describeRoute('set-up-lab', 'set-up', 'Set whether and what this lab reports to its group', {
      description:
        'Takes effect at once. Switched off, nothing more leaves the lab and what waited is dropped; docs/group.md describes the messages.',
      body: GroupLinkBody,
      response: { 200: GroupLinkView },
    }),
    (request) => {
      refuseContradictions(request.body);
      const before = groupLink.setting();
      const after = withPassword(request.body, before);
      saveAudited(context, request, () => groupLink.save(after), {
        action: 'group-link-changed',
        subject: ['group-link', 'group-link'],
        before: withoutPassword(before),
        // That it changed is for the record, and for whoever would change it back unseen.
        after: {
          ...withoutPassword(after),
          ...(after.password !== before.password && { isPasswordNew: true }),
        },
      });
      return view(sayToReader(request, running));
    },
  );
};
