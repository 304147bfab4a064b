#!/usr/bin/env node
// `waxwarden group`: takes what labs report and shows it until a signal comes; `add-person NAME` and `remove-person NAME`
// say who may look.

import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import pg from 'pg';
import { reasonOf } from '../wax/problem-error.ts';
import { followChanges } from './changes.ts';
import { startCopy } from './copy.ts';
import { identityProvider } from './identity-provider.ts';
import { type AddedPerson, addPerson, removePerson } from './people.ts';
import { buildGroupServer } from './server.ts';
import { type GroupSettings, readGroupSettings, WrongGroupSetting } from './settings.ts';
import { migrate } from './tables.ts';

const REFUSED = 2;
/** What hangs longer is cut off before a supervisor does it. */
const CLOSING_MILLIS = 4500;
const SCREEN_CONNECTIONS = 5;
const log = (line: string): void => console.error(line);

async function run({ postgres, brokers, authorityFile, host, port, provider }: GroupSettings): Promise<void> {
  if (brokers.length === 0) throw new WrongGroupSetting('--broker (WAXWARDEN_GROUP_BROKER) is missing');
  const authority = authorityFile === null ? null : readFileSync(authorityFile);
  const pool = new pg.Pool({ connectionString: postgres, max: SCREEN_CONNECTIONS });
  pool.on('error', () => {});
  const changes = followChanges(postgres);
  const server = buildGroupServer({
    pool,
    changes,
    now: Date.now,
    provider: provider === null ? null : identityProvider(provider),
  });
  const address = await server.listen({ host, port });
  const copy = startCopy(
    { postgres, broker: { urls: brokers, ...(authority !== null && { authority }) } },
    log,
  );
  console.log(`Open ${address}/`);
  console.log(
    'It informs and is no safety device: every heater needs its own thermal cut-out and a person nearby.',
  );
  const stop = async (): Promise<void> => {
    setTimeout(() => process.exit(1), CLOSING_MILLIS).unref();
    await server.close();
    await copy.stop();
    await changes.stop();
    await pool.end();
    process.exit(0);
  };
  for (const signal of ['SIGTERM', 'SIGINT'] as const) process.once(signal, () => void stop());
}

interface PersonArguments {
  readonly person: AddedPerson;
  /** The settings among them. */
  readonly rest: readonly string[];
}

const PERSON_OPTIONS = { email: { type: 'string' }, lab: { type: 'string' } } as const;

function readPerson(args: readonly string[]): PersonArguments {
  const { values, tokens } = parseArgs({
    args: [...args],
    options: PERSON_OPTIONS,
    strict: false,
    tokens: true,
    allowPositionals: true,
  });
  const own = new Set(
    tokens.flatMap((token) =>
      token.kind === 'option' && token.name in PERSON_OPTIONS
        ? [token.index, ...(token.inlineValue === false ? [token.index + 1] : [])]
        : [],
    ),
  );
  const { email, lab } = values;
  if (email !== undefined && !/^[^@\s]+@[^@\s]+$/.test(String(email)))
    throw new WrongGroupSetting('--email is the address that the identity provider vouches for, NAME@HOST');
  if (lab !== undefined && !/^[a-z0-9-]+$/.test(String(lab)))
    throw new WrongGroupSetting('--lab is the id of a site, as it stands in the topics of that lab');
  return {
    person: {
      ...(email !== undefined && { email: String(email) }),
      ...(lab !== undefined && { site: String(lab) }),
    },
    rest: args.filter((_, index) => !own.has(index)),
  };
}

async function changePeople(
  verb: string,
  name: string,
  person: AddedPerson,
  postgres: string,
): Promise<number> {
  const client = new pg.Client({ connectionString: postgres });
  await client.connect();
  try {
    await migrate(client);
    if (verb === 'add-person') {
      const key = await addPerson(client, name, person);
      console.log(
        key === null
          ? `${name} can look, signed in by the account of ${person.email}.`
          : `The key of ${name}, shown this once: ${key}`,
      );
      return 0;
    }
    const isRemoved = await removePerson(client, name);
    console.log(isRemoved ? `${name} can no longer look.` : `There is nobody called ${name}.`);
    return isRemoved ? 0 : 1;
  } finally {
    await client.end();
  }
}

try {
  const args = process.argv.slice(2).filter((argument) => argument !== 'group');
  const [verb = '', name = '', ...rest] = args;
  if (verb === 'add-person' || verb === 'remove-person') {
    if (name === '' || name.startsWith('-')) throw new WrongGroupSetting(`${verb} NAME`);
    const added = readPerson(verb === 'add-person' ? rest : []);
    const settings = verb === 'add-person' ? added.rest : rest;
    const { postgres } = readGroupSettings(settings, process.env);
    process.exitCode = await changePeople(verb, name, added.person, postgres);
  } else await run(readGroupSettings(args, process.env));
} catch (error) {
  if (!(error instanceof WrongGroupSetting) && !(error instanceof Error && 'code' in error)) throw error;
  console.error(`waxwarden group: ${reasonOf(error)}`);
  process.exit(REFUSED);
}
