#!/usr/bin/env node
// `waxwarden gateway FILE`: reads the settings, opens sources, buffer and uplink, and sweeps until a signal comes.

import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { pause } from '../collector/pause.ts';
import { reasonOf } from '../wax/problem-error.ts';
import { openBuffer } from './buffer.ts';
import { convertersSource } from './converters.ts';
import { Gateway } from './gateway.ts';
import { linesSource } from './lines.ts';
import { modbusSource, type RegisterSettings } from './modbus.ts';
import { oneWireSource } from './one-wire.ts';
import { pairGateway } from './pair.ts';
import type { ProbeSource } from './sample.ts';
import { type GatewaySettings, readSettings } from './settings.ts';
import { Uplink } from './uplink.ts';

/** What may mend itself: the service starts it anew. */
const FAILED = 1;
/** Wrong settings: it stays down until somebody has seen to them. */
const REFUSED = 2;
const KERNEL_FOLDER = '/sys/bus/w1/devices';
const CONVERTERS_FOLDER = '/sys/bus/iio/devices';
/** There once the time service of the system has set the clock. */
const CLOCK_SET_FILE = '/run/systemd/timesync/synchronized';
const SECONDS_PER_DAY = 86_400;

const now = (): number => Date.now();
const log = (line: string): void => console.error(line);

type Register = NonNullable<GatewaySettings['modbus']>[number]['registers'][number];

const codeOf = <Code extends object>({
  reference_ohms,
  ...code
}: Code & { readonly reference_ohms?: number }) => ({
  ...code,
  ...(reference_ohms !== undefined && { referenceOhms: reference_ohms }),
});

const registerOf = ({ first_word, first_byte, code, ...register }: Register): RegisterSettings => ({
  ...register,
  ...(first_word !== undefined && { firstWord: first_word }),
  ...(first_byte !== undefined && { firstByte: first_byte }),
  ...(code !== undefined && { code: codeOf(code) }),
});

function sourcesOf({
  one_wire,
  converters,
  converters_folder,
  modbus = [],
  lines = [],
}: GatewaySettings): readonly ProbeSource[] {
  return [
    ...(one_wire === undefined ? [] : [oneWireSource({ folder: KERNEL_FOLDER, ...one_wire }, now)]),
    ...(converters === undefined
      ? []
      : [
          convertersSource(
            converters_folder ?? CONVERTERS_FOLDER,
            converters.map((converter) => codeOf(converter)),
            now,
          ),
        ]),
    ...modbus.map(({ host = '', serial, baud = 0, registers, ...more }) =>
      modbusSource(
        {
          ...(serial === undefined ? { host, ...more } : { serial, baud, ...more }),
          registers: registers.map(registerOf),
        },
        now,
      ),
    ),
    ...lines.map(({ host = '', port = 0, serial, baud = 0, ...more }) =>
      linesSource({ ...(serial === undefined ? { host, port } : { serial, baud }), ...more }, now),
    ),
  ];
}

async function run(settings: GatewaySettings): Promise<void> {
  const { site, gateway, broker, every_seconds: every = 10, keep_days: days = 7, clock } = settings;
  mkdirSync(dirname(settings.buffer_file), { recursive: true });
  const buffer = openBuffer(settings.buffer_file, log);
  const password =
    broker.password_file === undefined ? null : readFileSync(broker.password_file, 'utf8').trim();
  const uplink = new Uplink(
    {
      site,
      gateway,
      url: broker.url,
      ...(broker.user !== undefined && { user: broker.user }),
      ...(password !== null && { password }),
      ...(broker.authority_file !== undefined && { authority: readFileSync(broker.authority_file) }),
    },
    buffer,
    log,
  );
  const sources = sourcesOf(settings);
  const running = new Gateway({
    sources,
    buffer,
    uplink,
    now,
    monotonic: () => performance.now(),
    isClockSet: () => clock === 'trusted' || existsSync(CLOCK_SET_FILE),
    log,
    mostWaiting: sources.length * Math.ceil((days * SECONDS_PER_DAY) / every),
  });
  const stopping = new AbortController();
  for (const signal of ['SIGTERM', 'SIGINT'] as const) process.once(signal, () => stopping.abort());
  log(`gateway "${gateway}" of site "${site}", every ${every} s; it only reads and is no safety device`);
  const failures: unknown[] = [];
  while (!stopping.signal.aborted) {
    running.sweep().catch((error: unknown) => {
      failures.push(error);
      stopping.abort();
    });
    await pause(every * 1000, stopping.signal);
  }
  await running.stop();
  if (failures.length === 0) return;
  log(`waxwarden gateway: ${reasonOf(failures[0])}`);
  process.exit(FAILED);
}

/** A full or failing disk, by the result codes of SQLite. */
const isOfDisk = (error: unknown): boolean => /^SQLITE_(FULL|IOERR|BUSY)/.test(String(Object(error).code));

const USAGE =
  'waxwarden gateway: give the settings file (gateway.yaml), or pair with a lab first: pair ADDRESS CODE gateway.yaml [AUTHORITY.pem]';

async function pairWith(args: readonly string[]): Promise<void> {
  const [address = '', code = '', settingsFile = 'gateway.yaml', authority] = args;
  if (!URL.canParse(address) || code === '') throw new Error(USAGE);
  const gateway = await pairGateway(address, code, settingsFile, authority ?? null);
  log(`paired as "${gateway}"; start it with: waxwarden gateway ${settingsFile}`);
}

const [first, ...more] = process.argv.slice(2).filter((argument) => argument !== 'gateway');
if (first === undefined) {
  console.error(USAGE);
  process.exit(REFUSED);
}
try {
  await (first === 'pair' ? pairWith(more) : run(readSettings(readFileSync(first, 'utf8'))));
} catch (error) {
  const reason = reasonOf(error);
  console.error(reason === USAGE ? USAGE : `waxwarden gateway: ${first}: ${reason}`);
  process.exit(isOfDisk(error) ? FAILED : REFUSED);
}
