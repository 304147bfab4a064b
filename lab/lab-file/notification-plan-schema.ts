// The notification plan as the lab file and the interface may give it: one schema for both, each description
// completing "expected ...".

import { Type } from 'typebox';
import { NOTIFIED_GROUPS, NOTIFIED_PRIORITIES } from '../notification-plan.ts';

const closed = { additionalProperties: false };
const PersonId = Type.String({ minLength: 1, maxLength: 64, description: 'the id of a person' });
const Day = Type.String({
  pattern: '^\\d{4}-\\d{2}-\\d{2}$',
  'x-form': 'day',
  description: 'a day as YYYY-MM-DD',
});

export const ClockTime = Type.String({
  pattern: '^([01]\\d|2[0-3]):[0-5]\\d$',
  'x-form': 'clock',
  description: "a time as HH:MM on the lab's clock",
});

export const RotaSchema = Type.Object(
  {
    people: Type.Array(PersonId, { minItems: 1, maxItems: 50, description: 'ids of persons, in turn' }),
    startsOn: {
      ...Day,
      description: 'the day of the first turn as YYYY-MM-DD; its weekday is that of every handover',
    },
    handoverTime: ClockTime,
  },
  { ...closed, description: 'weekly turns: people, startsOn, handoverTime' },
);

export const WebhookTemplate = Type.String({
  maxLength: 4000,
  description: 'JSON text with names in braces',
});
export const WEBHOOK_FIELDS = {
  id: Type.String({
    pattern: '^[a-z0-9-]{1,40}$',
    'x-form': 'webhook',
    description: 'an id of lower-case letters, digits and "-"',
  }),
  name: Type.String({ minLength: 1, maxLength: 80, description: 'a name' }),
  url: Type.String({
    maxLength: 500,
    pattern: '^https?://',
    'x-form': 'url',
    description: 'an http:// or https:// address',
  }),
};
export const NOTIFICATION_PLAN_LISTS = {
  absences: Type.Array(
    Type.Object(
      { person: PersonId, from: Day, to: Day },
      { ...closed, description: 'an absence: person, from, to' },
    ),
    { maxItems: 200, description: 'a list of absences' },
  ),
  escalation: Type.Array(
    Type.Object(
      {
        afterMinutes: Type.Integer({ minimum: 0, maximum: 1440, description: 'whole minutes up to a day' }),
        who: Type.Enum([...NOTIFIED_GROUPS], { description: 'whom to notify' }),
      },
      { ...closed, description: 'a step: afterMinutes, who' },
    ),
    { minItems: 1, maxItems: 10, description: 'a list of steps' },
  ),
  outsideHours: Type.Array(Type.Enum([...NOTIFIED_PRIORITIES], { description: 'a priority' }), {
    uniqueItems: true,
    description: 'a list of priorities',
  }),
  lampTopics: Type.Array(
    Type.String({
      pattern: '^[^+#\\s]{1,200}$',
      'x-form': 'mqtt',
      description: 'an MQTT topic without wildcards',
    }),
    { maxItems: 20, uniqueItems: true, description: 'a list of MQTT topics' },
  ),
};
