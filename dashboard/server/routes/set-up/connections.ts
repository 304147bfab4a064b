// Set-up: the mail server and the names in the network. Both hold at once. The password goes in and never comes out.

import type { FastifyRequest } from 'fastify';
import type { MailSetting } from '../../../../lab/database/mail-setting.ts';
import { ConnectionsView, HostNamesBody, MailServerBody } from '../../../api/connections.ts';
import type { App } from '../../base/app.ts';
import { fieldProblem } from '../../base/problem.ts';
import { saveAudited } from '../../context/audit-change.ts';
import { tagVersion } from '../../context/refuse-overwrite.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { describeRoute } from '../common/describe-route.ts';

/** A stored password goes to no other server, by no weaker way, and to no other user, than it was entered for. */
const withPassword = ({ password, ...body }: MailServerBody, before: MailSetting | null): MailSetting => {
  const isSame =
    before !== null &&
    (['host', 'port', 'security', 'user'] as const).every((name) => before[name] === body[name]);
  return { ...body, password: password ?? (isSame ? before.password : '') };
};

const withoutPassword = (mail: MailSetting | null): Omit<MailSetting, 'password'> | null => {
  if (mail === null) return null;
  const { password: _, ...shown } = mail;
  return shown;
};

export const connectionRoutes = (app: App, context: ServerContext): void => {
  const { running, audit, options } = context;
  const { connections } = running;
  const { authority, loopback, mailAtStart = null } = options;
  const view = (): ConnectionsView => {
    const { mail, hostNames } = connections.setting();
    return {
      mail: mail === null ? null : { ...withoutPassword(mail), hasPassword: mail.password !== '' },
      mailAtStart,
      hostNames: [...hostNames],
      hostNamesAtStart: [...(options.hostNames ?? [])],
      servesOthers: !loopback,
    } as ConnectionsView;
  };
  const saveMail = (request: FastifyRequest, mail: MailSetting | null): ConnectionsView => {
    const before = connections.setting().mail;
    saveAudited(context, request, () => connections.save({ mail }), {
      action: 'mail-server-changed',
      subject: ['connections', 'mail'],
      before: withoutPassword(before),
      // That it changed is for the record, and for whoever would change it back unseen.
      after: mail && {
        ...withoutPassword(mail),
        ...(mail.password !== (before?.password ?? '') && { isPasswordNew: true }),
      },
    });
    return view();
  };

  app.get(
    '/api/connections',
    describeRoute('set-up-lab', 'set-up', 'The mail server and the names in the network', {
      response: { 200: ConnectionsView },
    }),
    (_request, reply) => {
      tagVersion(audit, reply);
      return view();
    },
  );
  app.put(
    '/api/connections/mail',
    describeRoute('set-up-lab', 'set-up', 'Set the mail server', {
      description: 'Holds from the next letter on, in place of the one that the program was started with.',
      body: MailServerBody,
      response: { 200: ConnectionsView },
    }),
    (request) => saveMail(request, withPassword(request.body, connections.setting().mail)),
  );
  app.delete(
    '/api/connections/mail',
    describeRoute('set-up-lab', 'set-up', 'Take the mail server back', {
      description: 'The one that the program was started with holds again; without one no e-mail is sent.',
      response: { 200: ConnectionsView },
    }),
    (request) => saveMail(request, null),
  );
  app.put(
    '/api/connections/host-names',
    describeRoute('set-up-lab', 'set-up', 'Set the names by which browsers reach the lab', {
      description: 'Beside those that the program was started with; they hold from the next request on.',
      body: HostNamesBody,
      response: { 200: ConnectionsView },
    }),
    (request) => {
      const hostNames = [...new Set(request.body.hostNames.map((name) => name.toLowerCase()))];
      const vouched = authority?.vouchedFor({ dns: hostNames, addresses: [] }).dns ?? hostNames;
      hostNames.forEach((name, index) => {
        if (!vouched.includes(name))
          throw fieldProblem(`/body/hostNames/${index}`, 'field-name-not-vouched', { name });
      });
      saveAudited(context, request, () => connections.save({ hostNames }), {
        action: 'host-names-changed',
        subject: ['connections', 'host-names'],
        before: { hostNames: connections.setting().hostNames },
        after: { hostNames },
      });
      return view();
    },
  );
};
