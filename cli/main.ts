#!/usr/bin/env node
// Reads the settings, opens the lab process, prints where to look, and closes cleanly on a signal.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { databaseRefusal } from '../lab/database.ts';
import { ProblemError } from '../wax/problem-error.ts';
import { epochMillis } from '../wax/units.ts';
import { problemOnConsole } from './console-words.ts';
import { demoLab, type Demo } from './demo.ts';
import { createLabFrom, LabFileRefusal, labFileProblemLines } from './create-lab.ts';
import { helpText } from './help.ts';
import { type LabProcess, openLabProcess } from './lab-process.ts';
import { readSettings, refusal, type ProcessSettings } from './settings.ts';
import { version } from './shipped.ts';

const REFUSED = 2;
/** SIGTERM ends everything within five seconds; what hangs longer is cut off before a supervisor does it. */
const CLOSING_MILLIS = 4500;

const now = () => epochMillis(Date.now());

function refuse(line: string): never {
  console.error(line);
  process.exit(REFUSED);
}

async function main(settings: ProcessSettings, temporary: string | null): Promise<void> {
  const demo: Demo | null = settings.demo ? demoLab(settings, now) : null;
  const lab = await openLabProcess({
    settings,
    now,
    createLab: demo?.createLab ?? createLabFrom(settings.lab),
  });

  const close = async (status: number): Promise<never> => {
    setTimeout(() => process.exit(status || 1), CLOSING_MILLIS).unref();
    await demo?.stop();
    await lab.close();
    if (temporary !== null) rmSync(temporary, { recursive: true, force: true });
    process.exit(status);
  };
  for (const signal of ['SIGTERM', 'SIGINT'] as const) process.once(signal, () => void close(0));

  printStart(lab, settings);
  await demo?.past(lab);
  lab.startClock();
  await demo?.startLive(lab);
}

function printStart(lab: LabProcess, settings: ProcessSettings): void {
  const { site } = lab.running.lab();
  console.log(`Waxwarden ${version}: ${site.name} (site "${site.id}", ${site.timeZone})`);
  const { broker } = lab.intake.status();
  if (broker.state === 'listening') console.log(`Gateways publish to mqtt://${broker.host}:${broker.port}`);
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
  console.log(
    'It informs and is no safety device: every heater needs its own thermal cut-out and a person nearby.',
  );
}

if (process.argv.includes('--help')) {
  console.log(helpText());
  process.exit(0);
}
const result = readSettings(process.argv.slice(2), process.env);
if (!result.ok) refuse(refusal(result.problem));
const given = result.value;
/** The demonstration leaves nothing behind unless a folder was named. */
const temporary = given.demo && !given.dataIsGiven ? mkdtempSync(join(tmpdir(), 'waxwarden-demo-')) : null;
try {
  await main(temporary === null ? given : { ...given, data: temporary }, temporary);
} catch (error) {
  // Whatever is the first to be written to a full or read-only disk refuses the start in the same words.
  const refused = error instanceof ProblemError ? error : databaseRefusal(error, given.data);
  if (refused !== null) refuse(`waxwarden: ${problemOnConsole(refused.problem)}`);
  if (error instanceof LabFileRefusal) refuse(`waxwarden: --lab: ${labFileProblemLines(error).join('; ')}`);
  throw error;
}
