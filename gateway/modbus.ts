// Temperature controllers and converters over Modbus RTU or TCP, read by a register map. It only reads: no register of a
// controller is ever written.

import { setTimeout as pause } from 'node:timers/promises';
import modbus from 'modbus-serial';
import { reasonOf } from '../wax/problem-error.ts';
import { codeValue, type RawCode } from './raw-code.ts';
import type { ProbeSource, Sample, SampleUnit, SourceFault } from './sample.ts';

type Client = InstanceType<typeof modbus.default>;

export interface RegisterSettings {
  readonly probe: string;
  /** Number of the device on its line. */
  readonly device: number;
  readonly table: 'holding' | 'input';
  /** As it is on the wire, from 0. */
  readonly address: number;
  readonly type: 'int16' | 'uint16' | 'int32' | 'uint32' | 'float32';
  /** Of values of two registers: which comes first. */
  readonly firstWord?: 'high' | 'low';
  /** Within each register; Modbus itself sends the high one first. */
  readonly firstByte?: 'high' | 'low';
  /** What one step of the register is worth; 0.1 for tenths. */
  readonly scale?: number;
  readonly offset?: number;
  /** What the register holds when the sensor is broken. */
  readonly invalid?: readonly number[];
  /** The register holds the raw code of a converter. */
  readonly code?: RawCode;
  readonly unit: SampleUnit;
}

export type ModbusSettings = (
  | { readonly host: string; readonly port?: number }
  | { readonly serial: string; readonly baud: number; readonly parity?: 'none' | 'even' | 'odd' }
) & { readonly registers: readonly RegisterSettings[] };

const TIMEOUT_MILLIS = 2000;
const MODBUS_PORT = 502;
/** Silence between two frames of a serial line, and the bits of a character (Modbus over serial line 1.02, 2.5.1.1). */
const SILENT_CHARACTERS = 3.5;
const CHARACTER_BITS = 11;
const LEAST_SILENCE_MILLIS = 2;

const silenceMillis = (baud: number): number =>
  Math.max(LEAST_SILENCE_MILLIS, Math.ceil((SILENT_CHARACTERS * CHARACTER_BITS * 1000) / baud));

/** The device answered with what it cannot do: its line is in order. */
const isException = (error: unknown): boolean =>
  typeof error === 'object' && error !== null && 'modbusCode' in error;

const wordsOf = ({ type }: RegisterSettings): number => (type === 'int16' || type === 'uint16' ? 1 : 2);

/** The value of a register as it was sent, before scale and offset. */
export function registerNumber(
  words: readonly number[],
  { type, firstWord = 'high', firstByte = 'high' }: RegisterSettings,
): number {
  const ordered = firstWord === 'high' ? words : [...words].reverse();
  const bytes = Buffer.alloc(4);
  for (const [index, word] of ordered.entries()) bytes.writeUInt16BE(word, index * 2);
  if (firstByte === 'low') bytes.swap16();
  switch (type) {
    case 'int16':
      return bytes.readInt16BE(0);
    case 'uint16':
      return bytes.readUInt16BE(0);
    case 'int32':
      return bytes.readInt32BE(0);
    case 'uint32':
      return bytes.readUInt32BE(0);
    case 'float32':
      return bytes.readFloatBE(0);
  }
}

export function modbusSource(settings: ModbusSettings, now: () => number): ProbeSource {
  const name = 'host' in settings ? `${settings.host}:${settings.port ?? MODBUS_PORT}` : settings.serial;
  let client: Client | null = null;

  const connect = async (): Promise<Client> => {
    const opened = new modbus.default();
    // Errors of a connection show in the next request.
    opened.on('error', () => {});
    if ('host' in settings)
      await opened.connectTCP(settings.host, { port: settings.port ?? MODBUS_PORT, timeout: TIMEOUT_MILLIS });
    else
      await opened.connectRTUBuffered(settings.serial, {
        baudRate: settings.baud,
        parity: settings.parity ?? 'none',
      });
    opened.setTimeout(TIMEOUT_MILLIS);
    return opened;
  };
  const close = async (): Promise<void> => {
    const open = client;
    client = null;
    if (open === null) return;
    // A socket that is closed already has no further event.
    if ('host' in settings) open.destroy(() => {});
    else if (open.isOpen) await new Promise<void>((resolve) => open.close(() => resolve()));
  };
  const read = async (open: Client, register: RegisterSettings): Promise<Sample | SourceFault> => {
    open.setID(register.device);
    if ('baud' in settings) await pause(silenceMillis(settings.baud));
    const request = register.table === 'holding' ? 'readHoldingRegisters' : 'readInputRegisters';
    const { data } = await open[request](register.address, wordsOf(register));
    const at = now();
    const raw = registerNumber(data, register);
    const { probe, unit, scale = 1, offset = 0, invalid = [] } = register;
    if (!Number.isFinite(raw) || invalid.includes(raw))
      return { subject: probe, code: 'out-of-range', detail: String(raw) };
    if (register.code !== undefined) {
      const measured = codeValue(register.code, raw);
      return measured.ok
        ? { probe, at, ...measured.value }
        : { subject: probe, code: 'out-of-range', detail: JSON.stringify(measured.problem.values ?? {}) };
    }
    // Tenths leave binary noise behind.
    return { probe, unit, at, value: Number((raw * scale + offset).toPrecision(9)) };
  };

  const readOrFault = async (
    register: RegisterSettings,
    silent: Set<number>,
  ): Promise<Sample | SourceFault> => {
    const { probe, device } = register;
    try {
      client ??= await connect();
    } catch (error) {
      return { subject: probe, code: 'no-answer', detail: `${name}: ${reasonOf(error)}` };
    }
    try {
      return await read(client, register);
    } catch (error) {
      const detail = `${name}, device ${device}: ${reasonOf(error)}`;
      if (isException(error)) return { subject: probe, code: 'unreadable', detail };
      silent.add(device);
      // An answer that comes too late would be taken for the next one's.
      await close();
      return { subject: probe, code: 'no-answer', detail };
    }
  };

  return {
    sweep: async () => {
      const samples: Sample[] = [];
      const faults: SourceFault[] = [];
      /** Devices that gave no answer in this sweep: to wait for each of their registers would hold up the others. */
      const silent = new Set<number>();
      for (const register of settings.registers) {
        const { probe, device } = register;
        const result = silent.has(device)
          ? { subject: probe, code: 'no-answer' as const, detail: `${name}, device ${device}: silent` }
          : await readOrFault(register, silent);
        if ('probe' in result) samples.push(result);
        else faults.push(result);
        // Whoever cannot be reached now cannot be reached for the next register either.
        if (client === null && !silent.has(device))
          for (const { device: each } of settings.registers) silent.add(each);
      }
      return { samples, faults };
    },
    close,
  };
}
