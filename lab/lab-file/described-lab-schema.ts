// What can be described of a lab, as one JSON schema for the lab file and the interface. Each description completes
// "expected ...", and `x-form` names the form of a text for the message of a wrong one. Rules between fields (a probe of an unknown station, hours that overlap) are in lab-file-checks.ts.

import { type Static, Type } from 'typebox';
import { WAX_CLASS_IDS } from '../../wax/classes/wax-class-id.ts';
import { closed, Day, Name, StationId, Temperature } from './described-parts.ts';
import { DescribedProbe } from './described-probe-schema.ts';
import { LANGUAGE_PATTERN, MAIL_ADDRESS_PATTERN, MAIL_WHEN, ROLES } from '../person.ts';
import { STATION_KINDS } from '../station-kinds.ts';
import {
  ClockTime,
  RotaSchema,
  NOTIFICATION_PLAN_LISTS,
  WEBHOOK_FIELDS,
  WebhookTemplate,
} from './notification-plan-schema.ts';

const DayHours = Type.Array(
  Type.String({
    pattern: '^([01][0-9]|2[0-3]):[0-5][0-9]-(([01][0-9]|2[0-3]):[0-5][0-9]|24:00)$',
    'x-form': 'hours',
    description: 'hours as HH:MM-HH:MM, at latest until 24:00',
  }),
  { description: 'a list of hours, for example [08:00-12:00, 13:00-17:00]' },
);
const Wax = Type.Enum([...WAX_CLASS_IDS], { description: 'a wax class' });
const Rules = Type.Record(
  Type.String(),
  Type.Record(
    Type.String(),
    Type.Unsafe<number | boolean>({ type: ['number', 'boolean'], description: 'a number, true or false' }),
    { description: 'values of the rule by name' },
  ),
  { description: 'rules by name, each with the values that differ from its own' },
);

export const DescribedLabSchema = Type.Object(
  {
    site: Type.Object(
      {
        id: Type.String({
          pattern: '^[a-z0-9][a-z0-9-]{0,39}$',
          'x-form': 'site',
          description: 'an id of lower-case letters, digits and "-", at most 40, as in its topics',
        }),
        name: Name,
        timeZone: Type.String({
          format: 'time-zone',
          description: 'the name of a time zone such as Europe/Berlin',
        }),
        workingHours: Type.Optional(
          Type.Object(
            {
              mon: Type.Optional(DayHours),
              tue: Type.Optional(DayHours),
              wed: Type.Optional(DayHours),
              thu: Type.Optional(DayHours),
              fri: Type.Optional(DayHours),
              sat: Type.Optional(DayHours),
              sun: Type.Optional(DayHours),
            },
            { ...closed, description: 'the hours of each weekday; one that is not named is closed' },
          ),
        ),
        holidays: Type.Optional(Type.Array(Day, { uniqueItems: true, description: 'a list of closed days' })),
        patternCare: Type.Optional(
          Type.Object(
            {
              standing_minutes: Type.Optional(
                Type.Number({
                  minimum: 0,
                  maximum: 10_080,
                  description: 'minutes that a pattern may stand before it is invested, 0 for no such clock',
                }),
              ),
              room_celsius: Type.Optional(
                Type.Number({
                  minimum: 5,
                  maximum: 40,
                  description:
                    'the temperature of the room in which patterns are seated and invested, 5 to 40',
                }),
              ),
              remake_price: Type.Optional(
                Type.Number({
                  minimum: 0,
                  maximum: 1_000_000,
                  description: "what a remake costs in the lab's own currency, without the time",
                }),
              ),
              remake_minutes: Type.Optional(
                Type.Number({ minimum: 0, maximum: 10_080, description: 'minutes of work of a remake' }),
              ),
            },
            { ...closed, description: 'what the lab asks of waiting patterns' },
          ),
        ),
        rules: Type.Optional(Rules),
      },
      {
        ...closed,
        description: 'the lab itself: id, name, timeZone, workingHours, holidays, patternCare, rules',
      },
    ),
    stations: Type.Optional(
      Type.Array(
        Type.Object(
          {
            id: StationId,
            name: Name,
            kind: Type.Enum([...STATION_KINDS], { description: 'a kind of station' }),
            wax: Type.Optional(Wax),
            window_celsius: Type.Optional(
              Type.Array(Temperature, {
                minItems: 2,
                maxItems: 2,
                description: 'two temperatures, [low, high] in °C',
              }),
            ),
            ceiling_celsius: Type.Optional(Temperature),
            charge_grams: Type.Optional(
              Type.Number({ exclusiveMinimum: 0, maximum: 20_000, description: 'grams, up to 20000' }),
            ),
            heater_watts: Type.Optional(
              Type.Number({ exclusiveMinimum: 0, maximum: 20_000, description: 'watts, up to 20000' }),
            ),
            ready_by: Type.Optional(ClockTime),
            rules: Type.Optional(Rules),
          },
          { ...closed, description: 'a station: id, name, kind, and what the lab says of it' },
        ),
        { description: 'a list of stations' },
      ),
    ),
    probes: Type.Optional(Type.Array(DescribedProbe, { description: 'a list of probes' })),
    people: Type.Optional(
      Type.Array(
        Type.Object(
          {
            id: StationId,
            name: Name,
            role: Type.Enum([...ROLES], { description: 'a role' }),
            language: Type.Optional(
              Type.String({ maxLength: 35, pattern: LANGUAGE_PATTERN, description: 'a language' }),
            ),
            temperatureUnit: Type.Optional(
              Type.Enum(['celsius', 'fahrenheit'], { description: 'a unit of temperature' }),
            ),
            hourCycle: Type.Optional(Type.Enum(['h12', 'h23'], { description: 'an hour cycle' })),
            email: Type.Optional(
              Type.String({
                pattern: MAIL_ADDRESS_PATTERN,
                'x-form': 'email',
                maxLength: 254,
                description: 'an e-mail address',
              }),
            ),
            namesOnLockScreen: Type.Optional(Type.Boolean({ description: 'true or false' })),
            morningHeartbeat: Type.Optional(Type.Boolean({ description: 'true or false' })),
            mail: Type.Optional(Type.Enum([...MAIL_WHEN], { description: 'when e-mail is written' })),
          },
          { ...closed, description: 'a person: id, name, role, and how they read' },
        ),
        { description: 'a list of people' },
      ),
    ),
    notificationPlan: Type.Optional(
      Type.Object(
        {
          rota: Type.Optional(RotaSchema),
          absences: Type.Optional(NOTIFICATION_PLAN_LISTS.absences),
          escalation: Type.Optional(NOTIFICATION_PLAN_LISTS.escalation),
          outsideHours: Type.Optional(NOTIFICATION_PLAN_LISTS.outsideHours),
          heartbeatAt: Type.Optional(ClockTime),
          webhooks: Type.Optional(
            Type.Array(
              Type.Object(
                { ...WEBHOOK_FIELDS, template: Type.Optional(WebhookTemplate) },
                { ...closed, description: 'a webhook: id, name, url, template' },
              ),
              { maxItems: 20, description: 'a list of webhooks' },
            ),
          ),
          lampTopics: Type.Optional(NOTIFICATION_PLAN_LISTS.lampTopics),
        },
        { ...closed, description: 'who is notified of alarms; what is not named is as it ships' },
      ),
    ),
    waxOverrides: Type.Optional(
      Type.Object(
        Object.fromEntries(
          WAX_CLASS_IDS.map((id) => [
            id,
            Type.Optional(
              Type.Record(Type.String(), Type.Number({ description: 'a number' }), {
                description: 'values of the class by name, for example ceiling_celsius: 84',
              }),
            ),
          ]),
        ),
        { ...closed, description: "the lab's own values by wax class" },
      ),
    ),
  },
  { ...closed, description: 'a lab: site, stations, probes, people, waxOverrides' },
);

export type DescribedLab = Static<typeof DescribedLabSchema>;
