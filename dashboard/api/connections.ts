// The mail server and the names in the network, as a manager sets and sees them.

import { type Static, Type } from 'typebox';
import { MAIL_SECURITIES } from '../../lab/database/mail-setting.ts';
import { MAIL_ADDRESS_PATTERN } from '../../lab/person.ts';
import { closed, Nullable } from './schema-parts.ts';

const HOST_NAME = '^[A-Za-z0-9]([A-Za-z0-9.-]*[A-Za-z0-9])?$';

const mailFields = {
  host: Type.String({
    minLength: 1,
    maxLength: 253,
    pattern: HOST_NAME,
    'x-form': 'host',
    description: 'Name or IPv4 address of the mail server, without port',
  }),
  port: Type.Integer({ minimum: 1, maximum: 65_535 }),
  security: Type.Enum([...MAIL_SECURITIES], {
    description:
      '`tls` from the first byte (mostly port 465); `starttls`, refused without it (587); `none`, only inside a protected network (25)',
  }),
  user: Type.String({ maxLength: 200, description: 'Empty: the server wants no login' }),
  from: Type.String({
    maxLength: 254,
    pattern: MAIL_ADDRESS_PATTERN,
    'x-form': 'email',
    description: 'Sender of the letters',
  }),
};

export const MailServerBody = Type.Object(
  {
    ...mailFields,
    password: Type.Optional(
      Type.String({
        maxLength: 200,
        description: 'Absent: the one that is stored stays, unless server or user change',
      }),
    ),
  },
  closed,
);
export type MailServerBody = Static<typeof MailServerBody>;

export const HostNamesBody = Type.Object(
  {
    hostNames: Type.Array(
      Type.String({ minLength: 1, maxLength: 253, pattern: HOST_NAME, 'x-form': 'host' }),
      {
        maxItems: 10,
        description: 'Names in the network, without port; the first is used in links for others',
      },
    ),
  },
  closed,
);
export type HostNamesBody = Static<typeof HostNamesBody>;

export const ConnectionsView = Type.Object(
  {
    mail: Nullable(Type.Object({ ...mailFields, hasPassword: Type.Boolean() })),
    mailAtStart: Nullable(
      Type.String({ description: 'Server that the program was started with; holds while none is set' }),
    ),
    hostNames: HostNamesBody.properties.hostNames,
    hostNamesAtStart: Type.Array(Type.String()),
    servesOthers: Type.Boolean({ description: 'False: it serves this computer alone' }),
  },
  closed,
);
export type ConnectionsView = Static<typeof ConnectionsView>;
