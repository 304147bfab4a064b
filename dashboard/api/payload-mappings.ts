// Mappings of JSON payloads as they cross the wire, and what a trial of one over real messages gives.

import { type Static, Type } from 'typebox';
import { BATTERY_UNITS, MAPPED_TIMES, MAPPED_UNITS } from '../../lab/database/payload-mapping.ts';
import { Nullable } from './schema-parts.ts';

const closed = { additionalProperties: false };
const Pointer = Type.String({
  maxLength: 200,
  pattern: '^(/.*)?$',
  description: 'JSON pointer (RFC 6901), for example `/data/0/temp`; empty for the whole document',
});
const fields = {
  isOn: Type.Boolean({
    description: 'Off: its topics are followed and shown in quarantine, so that it can be tried',
  }),
  topic: Type.String({ minLength: 1, maxLength: 200, description: 'MQTT topic filter with `+` and `#`' }),
  gateway: Type.String({ pattern: '^[A-Za-z0-9._-]{1,64}$' }),
  probe: Type.String({
    minLength: 1,
    maxLength: 100,
    description: 'Name of the probe; `{1}` stands for the first `+` of the topic',
  }),
  value: Pointer,
  unit: Type.Enum([...MAPPED_UNITS]),
  time: Type.Optional(Pointer),
  timeFormat: Type.Optional(Type.Enum([...MAPPED_TIMES])),
  battery: Type.Optional(Pointer),
  batteryUnit: Type.Optional(Type.Enum([...BATTERY_UNITS])),
  signal: Type.Optional(Pointer),
};

export const MappingBody = Type.Object(fields, closed);
export type MappingBody = Static<typeof MappingBody>;
export const MappingView = Type.Object({ id: Type.String(), ...fields }, { additionalProperties: false });
export type MappingView = Static<typeof MappingView>;

export const MappingTrial = Type.Array(
  Type.Object({
    topic: Type.String(),
    at: Type.String({ format: 'date-time', description: 'When the message arrived' }),
    /** The message was longer than what is kept of it, so it could not be tried. */
    isCut: Type.Boolean(),
    readings: Type.Array(
      Type.Object({
        probe: Type.String(),
        at: Type.String({ format: 'date-time' }),
        unit: Type.Enum(['Cel', 'Ohm', 'mV']),
        value: Type.Number(),
      }),
    ),
    statuses: Type.Array(
      Type.Object({
        probe: Type.String(),
        battery_percent: Nullable(Type.Number()),
        battery_volts: Nullable(Type.Number()),
        signal_dbm: Nullable(Type.Number()),
      }),
    ),
    problems: Type.Array(Type.String({ description: 'In the language of the reader' })),
  }),
);
export type MappingTrial = Static<typeof MappingTrial>;
