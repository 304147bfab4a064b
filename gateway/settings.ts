// The settings file of a gateway: YAML, checked field by field; a field that is not known is refused.

import { type Static, Type } from 'typebox';
import { Compile } from 'typebox/schema';
import { parse } from 'yaml';
import { reasonOf } from '../wax/problem-error.ts';
import { CHIPS, type RawCode } from './raw-code.ts';
import type { SampleUnit } from './sample.ts';

const closed = { additionalProperties: false };
const Name = Type.String({ pattern: '^(?!\\.{1,2}$)[A-Za-z0-9._-]{1,64}$' });
const Port = Type.Integer({ minimum: 1, maximum: 65_535 });
const Baud = Type.Integer({ minimum: 300, maximum: 921_600 });
const Unit = Type.Enum(['Cel', 'K', 'Far', 'Ohm', 'mV', 'V']);
const Path = Type.String({ minLength: 1 });
const Ohms = Type.Number({ exclusiveMinimum: 0 });
const Thermocouple = Type.Enum(['K', 'T']);

const Register = Type.Object(
  {
    probe: Name,
    device: Type.Integer({ minimum: 0, maximum: 255 }),
    table: Type.Enum(['holding', 'input']),
    address: Type.Integer({ minimum: 0, maximum: 65_535 }),
    type: Type.Enum(['int16', 'uint16', 'int32', 'uint32', 'float32']),
    first_word: Type.Optional(Type.Enum(['high', 'low'])),
    scale: Type.Optional(Type.Number()),
    offset: Type.Optional(Type.Number()),
    first_byte: Type.Optional(Type.Enum(['high', 'low'])),
    invalid: Type.Optional(Type.Array(Type.Number())),
    code: Type.Optional(
      Type.Object(
        {
          chip: Type.Enum([...CHIPS]),
          reference_ohms: Type.Optional(Ohms),
          thermocouple: Type.Optional(Thermocouple),
        },
        closed,
      ),
    ),
    unit: Unit,
  },
  closed,
);

const Converter = Type.Object(
  {
    device: Type.String({ pattern: '^[A-Za-z0-9][A-Za-z0-9:._-]*$' }),
    probe: Name,
    channel: Type.Optional(Type.String({ pattern: '^in_(temp|voltage|resistance)[a-z0-9_-]*$' })),
    reference_ohms: Type.Optional(Ohms),
    thermocouple: Type.Optional(Thermocouple),
  },
  closed,
);

const SettingsSchema = Type.Object(
  {
    site: Type.String({ pattern: '^[a-z0-9][a-z0-9-]{0,39}$' }),
    gateway: Name,
    broker: Type.Object(
      {
        url: Type.String({ pattern: '^mqtts?://[^@]+$' }),
        user: Type.Optional(Type.String()),
        password_file: Type.Optional(Path),
        authority_file: Type.Optional(Path),
      },
      closed,
    ),
    buffer_file: Path,
    every_seconds: Type.Optional(Type.Number({ minimum: 1, maximum: 300 })),
    keep_days: Type.Optional(Type.Number({ minimum: 1, maximum: 90 })),
    clock: Type.Optional(Type.Enum(['timesync', 'trusted'])),
    one_wire: Type.Optional(
      Type.Object(
        { folder: Type.Optional(Path), probes: Type.Optional(Type.Record(Type.String(), Name)) },
        closed,
      ),
    ),
    converters: Type.Optional(Type.Array(Converter, { minItems: 1 })),
    converters_folder: Type.Optional(Path),
    modbus: Type.Optional(
      Type.Array(
        Type.Object(
          {
            host: Type.Optional(Type.String({ minLength: 1 })),
            port: Type.Optional(Port),
            serial: Type.Optional(Path),
            baud: Type.Optional(Baud),
            parity: Type.Optional(Type.Enum(['none', 'even', 'odd'])),
            registers: Type.Array(Register, { minItems: 1 }),
          },
          closed,
        ),
      ),
    ),
    lines: Type.Optional(
      Type.Array(
        Type.Object(
          {
            host: Type.Optional(Type.String({ minLength: 1 })),
            port: Type.Optional(Port),
            serial: Type.Optional(Path),
            baud: Type.Optional(Baud),
            pattern: Type.String({ minLength: 1 }),
            probe: Type.Optional(Name),
            unit: Unit,
          },
          closed,
        ),
      ),
    ),
  },
  closed,
);
export type GatewaySettings = Static<typeof SettingsSchema>;
const schema = Compile(SettingsSchema);

/** Names that are the collector's own in topics. */
const RESERVED = new Set(['station', 'alarm', 'change', 'collector']);

/** Refused settings: one line each, with the place in the file and what is wrong there. */
class SettingsRefusal extends Error {
  constructor(lines: readonly string[]) {
    super(lines.join('\n'));
    this.name = 'SettingsRefusal';
  }
}

export function readSettings(yaml: string): GatewaySettings {
  let content: unknown;
  try {
    content = parse(yaml);
  } catch (error) {
    throw new SettingsRefusal([reasonOf(error)]);
  }
  const [fits, errors] = schema.Errors(content);
  if (!fits)
    throw new SettingsRefusal(
      errors.map(({ instancePath, message, params }) => {
        const more = 'additionalProperties' in params ? `: ${String(params.additionalProperties)}` : '';
        return `${instancePath === '' ? 'the file' : instancePath.slice(1)}: ${message}${more}`;
      }),
    );
  const settings = content as GatewaySettings;
  const wrong = contradictions(settings);
  if (wrong.length > 0) throw new SettingsRefusal(wrong);
  return settings;
}

function contradictions(settings: GatewaySettings): readonly string[] {
  const { gateway, one_wire, converters = [], modbus = [], lines = [] } = settings;
  const isEmpty = one_wire === undefined && converters.length + modbus.length + lines.length === 0;
  return [
    ...(RESERVED.has(gateway) ? [`gateway: “${gateway}” is reserved; choose another name`] : []),
    ...(isEmpty ? ['the file: give at least one of one_wire, converters, modbus and lines'] : []),
    ...modbus.flatMap((line, index) => lineProblems(line, `modbus/${index}`)),
    ...lines.flatMap((line, index) => [
      ...lineProblems(line, `lines/${index}`),
      ...(line.host !== undefined && line.port === undefined ? [`lines/${index}: host needs a port`] : []),
      ...patternProblems(line, `lines/${index}`),
    ]),
    ...modbus.flatMap(({ registers }, line) =>
      registers.flatMap((register, index) => codeProblems(register, `modbus/${line}/registers/${index}`)),
    ),
    ...findTwice([
      ...modbus.flatMap(({ registers }) => registers.map(({ probe }) => probe)),
      ...converters.map(({ probe }) => probe),
    ]),
  ];
}

/** What the code of a converter is in; the settings hold it too, so that they can be read without a data sheet. */
const CODE_UNITS: Readonly<Record<RawCode['chip'], SampleUnit>> = {
  max31855: 'Cel',
  max31856: 'Cel',
  max31865: 'Ohm',
};

function codeProblems({ code, unit }: Static<typeof Register>, place: string): readonly string[] {
  if (code === undefined) return [];
  const { chip, reference_ohms, thermocouple } = code;
  return [
    ...(unit === CODE_UNITS[chip] ? [] : [`${place}/unit: ${chip} measures in ${CODE_UNITS[chip]}`]),
    ...((chip === 'max31865') === (reference_ohms !== undefined)
      ? []
      : [`${place}/code/reference_ohms: belongs to max31865, and to no other`]),
    ...(thermocouple === undefined || chip === 'max31855'
      ? []
      : [`${place}/code/thermocouple: belongs to max31855 alone`]),
  ];
}

const lineProblems = (
  { host, serial, baud }: { host?: string; serial?: string; baud?: number },
  place: string,
): readonly string[] =>
  (host === undefined) === (serial === undefined)
    ? [`${place}: give either host or serial`]
    : serial !== undefined && baud === undefined
      ? [`${place}: serial needs a baud rate`]
      : [];

function patternProblems(
  { pattern, probe }: { pattern: string; probe?: string },
  place: string,
): readonly string[] {
  try {
    new RegExp(pattern);
  } catch (error) {
    return [`${place}/pattern: ${reasonOf(error)}`];
  }
  if (!pattern.includes('(?<value>')) return [`${place}/pattern: needs a group (?<value>...)`];
  return probe === undefined && !pattern.includes('(?<probe>')
    ? [`${place}: give probe, or a group (?<probe>...) in the pattern`]
    : [];
}

const findTwice = (probes: readonly string[]): readonly string[] =>
  probes
    .filter((probe, index) => probes.indexOf(probe) !== index)
    .map((probe) => `probe “${probe}” is named twice`);
