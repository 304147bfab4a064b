#!/usr/bin/env node
// `waxwarden group`: takes what labs report and shows it until a signal comes; `add-person NAME` and `remove-person NAME`
// say who may look, `remove-lab SITE` removes a lab.

import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import pg from 'pg';
import { errorCode, reasonOf } from '../wax/problem-error.ts';
import { followChanges } from './changes.ts';
import { startCopy } from './copy.ts';
import { readerSay } from './html.ts';
import { identityProvider } from './identity-provider.ts';
import { type AddedPerson, addPerson, removePerson } from './people.ts';
import { removeLab } from './remove-lab.ts';
import { startSeries } from './series.ts';
import { buildGroupServer } from './server.ts';
import { type GroupSettings, readGroupSettings, WrongGroupSetting } from './settings.ts';
import { migrate } from './tables.ts';

const REFUSED = 2;
/** What hangs longer is cut off before a supervisor does it. */
const CLOSING_MILLIS = 4500;
const SCREEN_CONNECTIONS = 5;
const log = (line: string): void => console.error(line);

async function run(settings: GroupSettings): Promise<void> {
  const { postgres, brokers, authorityFile, influx, host, port, provider } = settings;
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
  const series = influx === null ? null : startSeries(postgres, influx, log);
  console.log(`Open ${address}/`);
  console.log(readerSay('en')('notice.footer'));
  const stop = async (): Promise<void> => {
    setTimeout(() => process.exit(1), CLOSING_MILLIS).unref();
    await server.close();
    await copy.stop();
    await series?.stop();
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

const PERSON_OPTIONS = {
  email: { type: 'string' },
  lab: { type: 'string' },
  role: { type: 'string' },
} as const;
const ROLES: readonly unknown[] = ['reader', 'giver'];

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
  const { email, lab, role = 'reader' } = values;
  if (email !== undefined && !/^[^@\s]+@[^@\s]+$/.test(String(email)))
    throw new WrongGroupSetting('--email is the address that the identity provider vouches for, NAME@HOST');
  if (lab !== undefined && !/^[a-z0-9-]+$/.test(String(lab)))
    throw new WrongGroupSetting('--lab is the id of a site, as in the topics of that lab');
  if (!ROLES.includes(role)) throw new WrongGroupSetting('--role is reader or giver');
  if (role === 'giver' && lab !== undefined)
    throw new WrongGroupSetting('--role giver is for a person of the whole group, not of one lab');
  return {
    person: {
      isGiver: role === 'giver',
      ...(email !== undefined && { email: String(email) }),
      ...(lab !== undefined && { site: String(lab) }),
    },
    rest: args.filter((_, index) => !own.has(index)),
  };
}

/** Runs one change over a connection of its own. */
async function withDatabase(
  postgres: string,
  change: (client: pg.Client) => Promise<number>,
): Promise<number> {
  const client = new pg.Client({ connectionString: postgres });
  await client.connect();
  try {
    await migrate(client);
    return await change(client);
  } finally {
    await client.end();
  }
}

interface Verb {
  /** Of the one argument. */
  readonly argument: string;
  readonly run: (argument: string, rest: readonly string[]) => Promise<number>;
}

const postgresOf = (args: readonly string[]): string => readGroupSettings(args, process.env).postgres;

const VERBS: Readonly<Record<string, Verb>> = {
  'add-person': {
    argument: 'NAME',
    run: (name, args) => {
      const { person, rest } = readPerson(args);
      return withDatabase(postgresOf(rest), async (client) => {
        const key = await addPerson(client, name, person);
        console.log(
          key === null
            ? `${name} can look, signed in by the account of ${person.email}.`
            : `The key of ${name}, shown this once: ${key}`,
        );
        return 0;
      });
    },
  },
  'remove-person': {
    argument: 'NAME',
    run: (name, args) =>
      withDatabase(postgresOf(args), async (client) => {
        const isRemoved = await removePerson(client, name);
        console.log(isRemoved ? `${name} can no longer look.` : `There is nobody called ${name}.`);
        return isRemoved ? 0 : 1;
      }),
  },
  'remove-lab': {
    argument: 'SITE',
    run: (site, args) =>
      withDatabase(postgresOf(args), async (client) => {
        const isRemoved = await removeLab(client, site);
        console.log(
          isRemoved
            ? `Everything that ${site} reported is gone. While it has a user at the broker, it comes back with its next report.`
            : `No lab has reported as ${site}.`,
        );
        return isRemoved ? 0 : 1;
      }),
  },
};

try {
  const args = process.argv.slice(2).filter((argument) => argument !== 'group');
  const [name = '', argument = '', ...rest] = args;
  const verb = Object.hasOwn(VERBS, name) ? VERBS[name] : undefined;
  if (verb === undefined) await run(readGroupSettings(args, process.env));
  else {
    if (argument === '' || argument.startsWith('-')) throw new WrongGroupSetting(`${name} ${verb.argument}`);
    process.exitCode = await verb.run(argument, rest);
  }
} catch (error) {
  if (!(error instanceof WrongGroupSetting) && errorCode(error) === undefined) throw error;
  console.error(`waxwarden group: ${reasonOf(error)}`);
  process.exit(REFUSED);
}
