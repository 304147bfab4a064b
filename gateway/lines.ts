// Devices that print numbers line by line, over TCP or a serial line. The newest value of each probe since the last sweep
// counts; a line that does not match is passed over.

import { connect, type Socket } from 'node:net';
import { createInterface } from 'node:readline';
import type { Readable } from 'node:stream';
import { SerialPort } from 'serialport';
import { reasonOf } from '../wax/problem-error.ts';
import type { ProbeSource, Sample, SampleUnit, SourceFault } from './sample.ts';

export type LinesSettings = (
  | { readonly host: string; readonly port: number }
  | { readonly serial: string; readonly baud: number }
) & {
  /** With a group `value`, and a group `probe` where the line names it. */
  readonly pattern: string;
  /** The probe of lines that do not name one. */
  readonly probe?: string;
  readonly unit: SampleUnit;
};

interface LineGroups {
  readonly probe?: string;
  readonly value?: string;
}

const RETRY_MILLIS = 5000;
/** A device that was switched off leaves a connection behind that stays silent for ever. */
const SILENT_MILLIS = 600_000;
/** What prints no line end, such as a serial line at a wrong speed, would be kept in memory as one endless line. */
const LONGEST_LINE_BYTES = 65_536;
const LINE_ENDS = /[\n\r]/;

/** What `Number` also takes, a blank and other bases, is no value. */
const DECIMAL = /^[-+.0-9]+(e[-+]?[0-9]+)?$/i;

/** The value of a line; null when it is none. */
export function lineValue(
  line: string,
  { pattern, probe, unit }: Pick<LinesSettings, 'pattern' | 'probe' | 'unit'>,
): Omit<Sample, 'at'> | null {
  const groups: LineGroups = new RegExp(pattern).exec(line)?.groups ?? {};
  const named = groups.probe ?? probe;
  const text = (groups.value ?? '').trim();
  const value = DECIMAL.test(text) ? Number(text) : Number.NaN;
  return named === undefined || !Number.isFinite(value) ? null : { probe: named, unit, value };
}

export function linesSource(settings: LinesSettings, now: () => number): ProbeSource {
  const name = 'host' in settings ? `${settings.host}:${settings.port}` : settings.serial;
  const newest = new Map<string, Sample>();
  let stream: Socket | SerialPort | null = null;
  let trouble: string | null = 'not connected yet';
  let timer: NodeJS.Timeout | null = null;
  let isClosed = false;

  const open = (): void => {
    const opened: Socket | SerialPort =
      'host' in settings
        ? connect({ host: settings.host, port: settings.port, timeout: SILENT_MILLIS })
        : new SerialPort({ path: settings.serial, baudRate: settings.baud });
    stream = opened;
    opened.once('connect', () => {
      trouble = null;
    });
    opened.once('open', () => {
      trouble = null;
    });
    opened.once('timeout', () => {
      trouble = 'silent for ten minutes';
      opened.destroy();
    });
    opened.on('error', (error: unknown) => {
      trouble = reasonOf(error);
      opened.destroy();
    });
    opened.once('close', () => {
      trouble ??= 'connection closed';
      if (!isClosed) timer = setTimeout(open, RETRY_MILLIS);
    });
    let unendedBytes = 0;
    opened.on('data', (bytes: Buffer) => {
      unendedBytes = LINE_ENDS.test(bytes.toString('latin1')) ? 0 : unendedBytes + bytes.length;
      if (unendedBytes <= LONGEST_LINE_BYTES) return;
      trouble = `no line end within ${LONGEST_LINE_BYTES} bytes`;
      opened.destroy();
    });
    createInterface({ input: opened as Readable }).on('line', (line) => {
      const value = lineValue(line, settings);
      if (value !== null) newest.set(value.probe, { ...value, at: now() });
    });
  };
  open();
  return {
    sweep: async () => {
      const samples = [...newest.values()];
      newest.clear();
      const faults: SourceFault[] =
        trouble === null ? [] : [{ subject: name, code: 'no-answer', detail: trouble }];
      return { samples, faults };
    },
    close: async () => {
      isClosed = true;
      if (timer !== null) clearTimeout(timer);
      stream?.destroy();
    },
  };
}
