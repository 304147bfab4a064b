// What a lab reports to its group, as a manager sets it up and sees its state.

import { type Static, Type } from 'typebox';
import { GROUP_DETAILS } from '../../lab/group/group-link.ts';
import { closed, Instant, Nullable } from './schema-parts.ts';

const fields = {
  isOn: Type.Boolean({ description: 'Off: nothing leaves the lab' }),
  url: Type.String({
    maxLength: 300,
    // Neither user nor password is in an address that is shown.
    'x-form': 'broker',
    pattern: '^(mqtts?://[^\\s@/]+/?)?$',
    description: 'Broker of the group: `mqtts://host:port`, or `mqtt://` inside a protected network',
  }),
  user: Type.String({ maxLength: 100 }),
  authority: Type.String({
    maxLength: 20_000,
    description:
      'Certificates in PEM that the broker’s own is checked against; empty: those that the machine trusts',
  }),
  detail: Type.Enum([...GROUP_DETAILS], {
    description: '`minutes`: the figures of each minute; `readings`: those and every reading',
  }),
  givesCaseReferences: Type.Boolean(),
  givesNames: Type.Boolean({ description: 'Names of those who acknowledged, shelved and so on' }),
};

export const GroupLinkBody = Type.Object(
  {
    ...fields,
    password: Type.Optional(
      Type.String({
        maxLength: 200,
        description: 'Absent: the one that is stored stays, unless address or user change',
      }),
    ),
  },
  closed,
);
export type GroupLinkBody = Static<typeof GroupLinkBody>;

export const GroupLinkView = Type.Object(
  {
    ...fields,
    hasPassword: Type.Boolean(),
    topics: Type.String({ description: 'What every topic of this lab at the group’s broker begins with' }),
    offersTopic: Type.String({ description: 'Where the group publishes what it offers this lab' }),
    status: Nullable(
      Type.Object({
        state: Type.Enum(['off', 'connected', 'unreachable']),
        since: Instant,
        problem: Nullable(Type.String({ description: 'In the language of the reader' })),
        deliveredAt: Nullable(Instant),
        waitingMinutes: Type.Integer(),
        waitingAlarmChanges: Type.Integer(),
      }),
    ),
  },
  closed,
);
export type GroupLinkView = Static<typeof GroupLinkView>;
