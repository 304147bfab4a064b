// Temperature controllers and converters over Modbus RTU or TCP, read by a register map. It only reads: no register of a
// controller is ever written.

import modbus from 'modbus-serial';
import { reasonOf } from '../wax/problem-error.ts';
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
  /** What one step of the register is worth; 0.1 for tenths. */
  readonly scale?: number;
  readonly offset?: number;
  /** What the register holds when the sensor is broken. */
  readonly invalid?: readonly number[];
  readonly unit: SampleUnit;
}

export type ModbusSettings = (
  | { readonly host: string; readonly port?: number }
  | { readonly serial: string; readonly baud: number; readonly parity?: 'none' | 'even' | 'odd' }
) & { readonly registers: readonly RegisterSettings[] };

const TIMEOUT_MILLIS = 2000;
const MODBUS_PORT = 502;

const wordsOf = ({ type }: RegisterSettings): number => (type === 'int16' || type === 'uint16' ? 1 : 2);

/** The value of a register as it was sent, before scale and offset. */
export function registerNumber(
  words: readonly number[],
  { type, firstWord = 'high' }: RegisterSettings,
): number {
  const ordered = firstWord === 'high' ? words : [...words].reverse();
  const bytes = Buffer.alloc(4);
  for (const [index, word] of ordered.entries()) bytes.writeUInt16BE(word, index * 2);
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
    // A socket that is closed already never says so again.
    if ('host' in settings) open.destroy(() => {});
    else if (open.isOpen) await new Promise<void>((resolve) => open.close(() => resolve()));
  };
  const read = async (open: Client, register: RegisterSettings): Promise<Sample | SourceFault> => {
    open.setID(register.device);
    const request = register.table === 'holding' ? 'readHoldingRegisters' : 'readInputRegisters';
    const { data } = await open[request](register.address, wordsOf(register));
    const at = now();
    const raw = registerNumber(data, register);
    const { probe, unit, scale = 1, offset = 0, invalid = [] } = register;
    if (!Number.isFinite(raw) || invalid.includes(raw))
      return { subject: probe, code: 'out-of-range', detail: String(raw) };
    // Tenths leave binary noise behind.
    return { probe, unit, at, value: Number((raw * scale + offset).toPrecision(9)) };
  };

  return {
    sweep: async () => {
      const samples: Sample[] = [];
      const faults: SourceFault[] = [];
      for (const register of settings.registers) {
        try {
          client ??= await connect();
          const result = await read(client, register);
          if ('probe' in result) samples.push(result);
          else faults.push(result);
        } catch (error) {
          faults.push({ subject: register.probe, code: 'no-answer', detail: `${name}: ${reasonOf(error)}` });
          // An answer that comes too late would be taken for the next one's.
          await close();
        }
      }
      return { samples, faults };
    },
    close,
  };
}
