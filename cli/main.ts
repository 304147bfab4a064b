#!/usr/bin/env node
// Reads the command and the settings, opens the lab process, prints where to look, and closes cleanly on a signal.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { databaseRefusal } from '../lab/database/database.ts';
import { ProblemError } from '../wax/problem-error.ts';
import type { Result } from '../wax/result.ts';
import { epochMillis } from '../wax/units.ts';
import { commandLine } from './command-line/commands.ts';
import { completionScript } from './command-line/completion.ts';
import { problemOnConsole, SAFETY_LINE } from './console/console-words.ts';
import { demoLab, type Demo } from './demo.ts';
import { createLabFrom, labFileProblemLines } from './data/create-lab.ts';
import { onFreePorts } from './free-ports.ts';
import { helpText } from './command-line/help.ts';
import { type LabProcess, openLabProcess } from './process/lab-process.ts';
import { whenLauncherEnds } from './launcher.ts';
import { openLog } from './console/log.ts';
import { runVerb } from './command-line/run-verb.ts';
import { LabFileRefusal } from './data/lab-of-file.ts';
import { readSettings, refusal, type ProcessSettings } from './settings/settings.ts';
import { faultbenchScript, version } from './process/shipped.ts';
import { spareMemory } from './spare-memory.ts';
import { waitForRoom } from './wait-for-room.ts';

const REFUSED = 2;
/** SIGTERM ends everything within five seconds; what hangs longer is cut off before a supervisor does it. */
const CLOSING_MILLIS = 4500;

const now = () => epochMillis(Date.now());

function refuse(line: string): never {
  console.error(line);
  process.exit(REFUSED);
}

function requireSuccess<T>(result: Result<T>): T {
  return result.ok ? result.value : refuse(refusal(result.problem));
}

/** Closes what is open, once, however often and by whom it is called. */
function closer() {
  const open: (() => Promise<void>)[] = [];
  let isClosing = false;
  const close = async (status: number): Promise<void> => {
    if (isClosing) return;
    isClosing = true;
    setTimeout(() => process.exit(status || 1), CLOSING_MILLIS).unref();
    for (const end of open.reverse()) await end();
    process.exit(status);
  };
  // A terminal and npm both pass Ctrl-C on, so it may arrive twice.
  for (const signal of ['SIGTERM', 'SIGINT', 'SIGHUP'] as const) process.on(signal, () => void close(0));
  whenLauncherEnds(() => void close(0));
  return { opened: (end: () => Promise<void>) => open.push(end) };
}

async function run(settings: ProcessSettings): Promise<void> {
  const { opened } = closer();
  const log = openLog({
    level: settings.logLevel,
    format: settings.logFormat,
    now,
    print: (line) => process.stderr.write(line),
  });
  await waitForRoom(settings, now, (line) => console.error(line));
  const demo: Demo | null = settings.demo ? demoLab(settings, now) : null;
  const lab = await openLabProcess({
    settings,
    now,
    log,
    createLab: demo?.createLab ?? createLabFrom(settings.lab),
  });
  opened(lab.close);
  spareMemory(lab.running.lab().probes.length);
  if (demo !== null) opened(demo.stop);
  printStart(lab, settings);
  log.write('info', 'started', { version, site: lab.running.lab().site.id, address: lab.address });
  await demo?.past(lab);
  lab.startClock();
  await demo?.startLive(lab);
}

function printStart(lab: LabProcess, settings: ProcessSettings): void {
  const { site } = lab.running.lab();
  console.log(`Waxwarden ${version}: ${site.name} (site "${site.id}", ${site.timeZone})`);
  const { broker } = lab.intake.status();
  if (broker.state === 'listening')
    console.log(
      `Gateways publish to ${settings.broker.kind === 'embedded' && settings.broker.tls ? 'mqtts' : 'mqtt'}://${broker.host}:${broker.port}`,
    );
  if (broker.state === 'unreachable') console.log(problemOnConsole(broker.problem));
  if (lab.login !== null)
    console.log(`Their user is "${lab.login.user}", their password ${lab.login.password}`);
  if (lab.firstPersonCode !== null)
    console.log(
      settings.newManagerCode
        ? `Whoever signs in with the code ${lab.firstPersonCode} becomes manager; it can be used once, within seven days`
        : `No one can sign in yet: the first person signs in with the code ${lab.firstPersonCode}`,
    );
  console.log(`Open ${lab.address}/`);
  if (lab.trust?.fingerprint != null) {
    console.log(`Phones first open ${lab.trust.plainAddress}/authority and trust the lab there.`);
    console.log(`Its fingerprint, to be compared: ${lab.trust.fingerprint}`);
  }
  console.log(SAFETY_LINE);
}

/** The demonstration leaves nothing behind unless a folder was named. */
function withFolder(settings: ProcessSettings): ProcessSettings {
  if (!settings.demo || settings.dataIsGiven) return settings;
  const data = mkdtempSync(join(tmpdir(), 'waxwarden-demo-'));
  process.on('exit', () => rmSync(data, { recursive: true, force: true }));
  return { ...settings, data };
}

async function start(args: readonly string[]): Promise<void> {
  const given = requireSuccess(readSettings(args, process.env));
  try {
    if (!given.demo) return await run(given);
    const { settings, moved } = await onFreePorts(given);
    for (const { wanted, used } of moved)
      console.log(`Port ${wanted} is taken; the demonstration uses ${used === 0 ? 'another' : used}.`);
    await run(withFolder(settings));
  } catch (error) {
    // On a full or read-only disk the first write refuses the start, whichever it is, in the same words.
    const refused = error instanceof ProblemError ? error : databaseRefusal(error, given.data);
    if (refused !== null) refuse(`waxwarden: ${problemOnConsole(refused.problem)}`);
    if (error instanceof LabFileRefusal) refuse(`waxwarden: --lab: ${labFileProblemLines(error).join('; ')}`);
    throw error;
  }
}

/** A program of its own that shares nothing with the lab process; it reads its own command line. */
async function startProgram(main: URL, args: readonly string[]): Promise<void> {
  process.argv = [...process.argv.slice(0, 2), ...args];
  await import(main.href);
}

const programIn = (folder: 'gateway' | 'group'): URL =>
  new URL(`../${folder}/main.${import.meta.url.endsWith('.ts') ? 'ts' : 'js'}`, import.meta.url);

const { command, args } = requireSuccess(commandLine(process.argv.slice(2)));
switch (command) {
  case 'help':
    console.log(helpText());
    break;
  case 'completion':
    console.log(requireSuccess(completionScript(args)));
    break;
  case 'demo':
    await start(['--demo', ...args]);
    break;
  case 'gateway':
  case 'group':
    await startProgram(programIn(command), args);
    break;
  case 'faultbench':
    await startProgram(requireSuccess(faultbenchScript()), args);
    break;
  case 'version':
    console.log(version);
    break;
  case 'start':
    await start(args);
    break;
  default:
    // Not by exit(): output into a pipe may not have been flushed yet.
    process.exitCode = await runVerb(command, args);
}
