// What can be described of a lab, as one JSON schema for the lab file and the interface. Each description completes
// "expected ...", and `x-form` names the form of a text for the message of a wrong one. Rules between fields (a probe of an unknown station, hours that overlap) are in lab-file-checks.ts.

import { type Static, Type } from 'typebox';
import { WAX_CLASS_IDS } from '../wax/classes/wax-class-id.ts';
import { LANGUAGE_PATTERN, MAIL_WHEN, ROLES } from './person.ts';
import { SENSOR_KINDS, SENSOR_TOLERANCES } from './sensor.ts';
import { STATION_KINDS } from './station-kinds.ts';
import {
  ClockTime,
  RotaSchema,
  NOTIFICATION_PLAN_LISTS,
  WEBHOOK_FIELDS,
  WebhookTemplate,
} from './notification-plan-schema.ts';
import { VISIBLE_LINE_PATTERN } from './visible-text.ts';

const closed = { additionalProperties: false };
const Name = Type.String({
  minLength: 1,
  maxLength: 80,
  pattern: VISIBLE_LINE_PATTERN,
  'x-form': 'name',
  description: 'a name of 1 to 80 characters, all of which can be seen',
});
const StationId = Type.String({
  pattern: '^[A-Za-z0-9][A-Za-z0-9-]{0,39}$',
  'x-form': 'id',
  description: 'an id of letters, digits and "-", at most 40',
});
const TopicPart = Type.String({
  pattern: '^[A-Za-z0-9._-]{1,64}$',
  'x-form': 'topic',
  description: 'an id of letters, digits, ".", "_" and "-", at most 64, as it stands in the topic',
});
const Day = Type.String({ format: 'date', description: 'a day as YYYY-MM-DD' });
const DayHours = Type.Array(
  Type.String({
    pattern: '^([01][0-9]|2[0-3]):[0-5][0-9]-(([01][0-9]|2[0-3]):[0-5][0-9]|24:00)$',
    'x-form': 'hours',
    description: 'hours as HH:MM-HH:MM, at latest until 24:00',
  }),
  { description: 'a list of hours, for example [08:00-12:00, 13:00-17:00]' },
);
const Wax = Type.Enum([...WAX_CLASS_IDS], { description: 'a wax class' });
// Above 150 °C a heater must be switched off (common practice, no source), so no ceiling may lie there.
const Temperature = Type.Number({
  minimum: -40,
  maximum: 150,
  description: 'a temperature from -40 to 150 °C',
});

const Kelvins = (most: number) =>
  Type.Number({ minimum: 0, maximum: most, description: `degrees from 0 to ${most}` });
const Reading = Type.Number({
  minimum: -100,
  maximum: 500,
  description: 'a temperature from -100 to 500 °C',
});
const Calibration = Type.Object(
  {
    day: Day,
    reference: Type.Optional(Name),
    points: Type.Array(
      Type.Object(
        {
          reading_celsius: Reading,
          reference_celsius: Reading,
          scatter_celsius: Type.Optional(Kelvins(5)),
        },
        { ...closed, description: 'a point: reading_celsius and reference_celsius' },
      ),
      { minItems: 2, maxItems: 3, description: 'two or three points' },
    ),
    reference_uncertainty_celsius: Kelvins(5),
    resolution_celsius: Type.Optional(Kelvins(5)),
  },
  { ...closed, description: 'a calibration: day, points, reference_uncertainty_celsius (k = 2)' },
);

const Ohms = Type.Number({ minimum: 0, maximum: 10_000_000, description: 'ohms from 0 to 10000000' });
const Coefficient = Type.Number({ description: 'a coefficient as a number' });
const Sensor = Type.Object(
  {
    kind: Type.Enum([...SENSOR_KINDS], { description: 'a kind of sensor' }),
    tolerance: Type.Optional(Type.Enum([...SENSOR_TOLERANCES], { description: 'a tolerance class' })),
    element: Type.Optional(Type.Enum(['pt100', 'pt1000'], { description: 'pt100 or pt1000' })),
    wires: Type.Optional(
      Type.Unsafe<2 | 3 | 4>({ type: 'integer', enum: [2, 3, 4], description: 'two, three or four wires' }),
    ),
    lead_ohms: Type.Optional(
      Type.Number({ minimum: 0, maximum: 50, description: 'ohms from 0 to 50, both wires together' }),
    ),
    thermocouple: Type.Optional(Type.Enum(['K', 'T'], { description: 'K or T' })),
    cold_junction_celsius: Type.Optional(Temperature),
    cold_junction_probe: Type.Optional(TopicPart),
    r25_ohms: Type.Optional(Ohms),
    beta_kelvin: Type.Optional(
      Type.Number({ minimum: 500, maximum: 10_000, description: 'kelvins from 500 to 10000' }),
    ),
    a: Type.Optional(Coefficient),
    b: Type.Optional(Coefficient),
    c: Type.Optional(Coefficient),
  },
  { ...closed, description: 'a sensor: its kind, and what the kind needs' },
);

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
          description: 'an id of lower-case letters, digits and "-", at most 40, as it stands in the topics',
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
            rules: Type.Optional(Rules),
          },
          { ...closed, description: 'a station: id, name, kind, and what the lab says of it' },
        ),
        { description: 'a list of stations' },
      ),
    ),
    probes: Type.Optional(
      Type.Array(
        Type.Object(
          {
            id: TopicPart,
            gateway: TopicPart,
            station: Type.Optional(StationId),
            correction_celsius: Type.Optional(
              Type.Number({
                minimum: -20,
                maximum: 20,
                description: 'degrees from -20 to 20, added to readings',
              }),
            ),
            uncertainty_celsius: Type.Optional(
              Type.Number({ minimum: 0, maximum: 20, description: 'degrees from 0 to 20 (k = 2)' }),
            ),
            sensor: Type.Optional(Sensor),
            powersOnAt85: Type.Optional(Type.Boolean({ description: 'true or false' })),
            calibrationDue: Type.Optional(Day),
            retiredOn: Type.Optional(Day),
            calibration: Type.Optional(Calibration),
          },
          { ...closed, description: 'a probe: id, gateway, station, and its calibration' },
        ),
        { description: 'a list of probes' },
      ),
    ),
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
                pattern: '^[^@\\s]+@[^@\\s]+$',
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
  {
    ...closed,
    description: 'a lab: site, stations, probes, people, waxOverrides',
  },
);

export type DescribedLab = Static<typeof DescribedLabSchema>;
