// Every command and address that a document shows, as written there: the script exists, the settings are taken, the
// ports are those that the program opens. The first probe of the README is run in tests/integration/readme.test.ts.

import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { commandLine } from '../../cli/command-line/commands.ts';
import { SETTING_ROWS } from '../../cli/settings/setting-rows.ts';
import { readSettings } from '../../cli/settings/settings.ts';

const root = join(import.meta.dirname, '../..');
const read = (path: string): string => readFileSync(join(root, path), 'utf8');
const DOCUMENTS = [
  'README.md',
  'CONTRIBUTING.md',
  'SECURITY.md',
  ...readdirSync(join(root, 'docs'), { encoding: 'utf8' })
    .filter((name) => name.endsWith('.md'))
    .map((name) => `docs/${name}`),
];
const { scripts } = JSON.parse(read('package.json')) as {
  readonly scripts: Readonly<Record<string, string>>;
};

interface Shown {
  readonly document: string;
  readonly line: string;
}

/** The test that runs a command that begins so, as it is written. */
const RUN_BY: readonly (readonly [command: RegExp, test: string])[] = [
  [/^(TOPIC=|mosquitto_pub)/, 'tests/integration/readme.test.ts'],
  [/^npm start -- --data \.\/data/, 'tests/integration/readme.test.ts'],
  [
    /^npm start -- (backup|restore|verify|set-aside|export|import|replay|--help)/,
    'tests/integration/operations-guide.test.ts',
  ],
  [/^npm start -- --(data|host|webhook-hosts|behind-proxy)/, 'tests/integration/operations-guide.test.ts'],
  [/^(cp -a|mv) /, 'tests/integration/operations-guide.test.ts'],
  [/^(curl|waxwarden gateway)/, 'tests/integration/guides.test.ts'],
  [/^waxwarden group/, 'tests/integration/group-guide.test.ts'],
  [/^(printf|T[A-Z]+=\$)/, 'tests/integration/machine-guide.test.ts'],
];
/** What no test runs as it is written, and why. */
const RUN_BY_NONE: readonly (readonly [command: RegExp, why: string])[] = [
  [
    /^(npm (test|ci|run (build|check:\S+|format))|npx vitest)/,
    'it is what runs, builds or checks the tests themselves',
  ],
  [/^npm run (--silent )?make:/, 'it writes a page that a test compares with what it would write'],
  [
    /^npm run (demo|faultbench|bench)/,
    'it works for minutes; its parts are tested, and the pages name when it was last run',
  ],
  [/^docker compose/, 'it needs a container engine; the composition itself is read by its client'],
  [
    /^(npm start -- --broker mqtts:|WAXWARDEN_|npm start -- --store influx:)/,
    'it names another machine; the same settings are tested with a broker and a store of the test',
  ],
  [
    /^(npm link|npm start|waxwarden (start|demo|help|version|completion.*))$/,
    'it names the command in a sentence; the command line is tested where it is read',
  ],
];

/** Lines of shell fences, without comments, and commands of npm and of the program in running text. */
const shownIn = (document: string): readonly Shown[] => {
  const text = read(document).replace(/\\\n\s*/g, ' ');
  const fences = [...text.matchAll(/^```sh\n(.*?)^```/gms)].flatMap(([, block = '']) => block.split('\n'));
  const inline = [...text.matchAll(/`((?:npm|npx|waxwarden) [^`\n]+)`/g)].flatMap(([, command = '']) =>
    command.split(' && '),
  );
  return [...fences, ...inline]
    .map((line) => line.replace(/(^|\s)#.*$/, '').trim())
    .filter((line) => line !== '')
    .map((line) => ({ document, line }));
};

/** Programs of the system that documents name. */
const SYSTEM = /^(systemctl|tar|mosquitto_pub|mosquitto_sub|curl|useradd|chmod|cp|mv|printf) /;

/** What is wrong with a start as it is shown; null when it would be taken. */
const wrongStart = (args: readonly string[], env: Readonly<Record<string, string>> = {}): string | null => {
  const line = commandLine(args);
  if (!line.ok) return line.problem.code;
  const { command } = line.value;
  if (command !== 'start' && command !== 'demo') return null;
  const settings = readSettings(line.value.args, env);
  if (!settings.ok) return `${settings.problem.code} ${JSON.stringify(settings.problem.values)}`;
  const { lab } = settings.value;
  return lab === null || existsSync(join(root, lab)) ? null : `${lab} is not there`;
};

const wrongScript = (name: string): string | null => (name in scripts ? null : `there is no script ${name}`);

const SERVICES = new Set(
  Object.keys(
    (parse(readFileSync(join(root, 'docker-compose.yml'), 'utf8')) as { services: object }).services,
  ),
);

/** Of `compose run --rm SERVICE ...` and `compose kill -s SIGNAL SERVICE`: whether the composition has the service. */
const wrongComposition = (words: readonly string[]): string | null => {
  const service = words.find((word) => SERVICES.has(word));
  return service === undefined ? `${words.join(' ')} names no service of the composition` : null;
};

const wrongCommand = (line: string): string | null => {
  const [program = '', first = '', ...rest] = line.split(/\s+/);
  const [, setting, value = ''] = /^(WAXWARDEN_[A-Z_]+)=(\S*)$/.exec(line) ?? [];
  if (setting !== undefined) {
    if (!Object.values(SETTING_ROWS).some(({ env }) => env === setting)) return `${setting} is no setting`;
    return wrongStart([], { [setting]: value });
  }
  if (/^[A-Z]+=(\S+|\$\(sed .*\))$/.test(line) || SYSTEM.test(line)) return null;
  const given = rest.slice(rest.indexOf('--') + 1);
  if (program === 'waxwarden') return wrongStart([first, ...rest].filter((word) => word !== '...'));
  if (program === 'npm' && first === 'start') return wrongStart(rest.includes('--') ? given : []);
  if (program === 'npm' && first === 'run') {
    const [name = ''] = rest.filter((word) => !word.startsWith('-'));
    const bench = name === 'bench' && rest.includes('--') ? `tests/bench/${given[0]}.ts` : null;
    return bench === null || existsSync(join(root, bench)) ? wrongScript(name) : `${bench} is not there`;
  }
  if (program === 'npm') return ['test', 'ci', 'install', 'link'].includes(first) ? null : `npm ${first}`;
  if (program === 'npx' && first === 'vitest') {
    const path = rest.filter((word) => !word.startsWith('-')).at(-1) ?? '';
    const isThere = ['', '.ts', '.test.ts'].some((end) => existsSync(join(root, path + end)));
    return isThere ? null : `${path} is not there`;
  }
  if (program === 'docker') return wrongComposition(rest);
  return `${program} is not known here`;
};

describe('a command in a document', () => {
  const commands = DOCUMENTS.flatMap(shownIn);

  it('is found in every document that shows some', () => {
    expect(commands.length).toBeGreaterThan(25);
  });

  it.each(commands.map(({ document, line }) => [document, line]))('in %s works as written: %s', (_, line) => {
    expect(wrongCommand(line)).toBeNull();
  });

  it.each(commands.map(({ document, line }) => [document, line]))(
    'in %s is run by a test, or is listed here with the reason: %s',
    (_, line) => {
      const [, test = null] = RUN_BY.find(([command]) => command.test(line)) ?? [];
      if (test === null) expect(RUN_BY_NONE.filter(([command]) => command.test(line))).toHaveLength(1);
      else expect(existsSync(join(root, test))).toBe(true);
    },
  );

  it.each([
    ['npm run demmo', 'there is no script demmo'],
    ['npm start -- --ports 1', 'unknown-setting'],
    ['npm start -- --lab lab/files/none.yaml', 'is not there'],
    ['npm run bench -- nothing', 'is not there'],
    ['WAXWARDEN_COLOUR=red', 'is no setting'],
    ['waxwarden frobnicate', 'unknown-command'],
    ['frobnicate now', 'is not known here'],
    ['docker compose run --rm nobody', 'no service'],
  ])('would be refused if it did not: %s', (line, why) => {
    expect(wrongCommand(line)).toContain(why);
  });
});

describe('an address of this machine in a document', () => {
  const port = (name: 'port' | 'http-port'): string => SETTING_ROWS[name].fallback;
  const own = new Set([port('port'), port('http-port'), SETTING_ROWS.broker.fallback.split(':')[1] ?? '']);

  it.each(DOCUMENTS)('has a port that the program opens, in %s', (document) => {
    const text = read(document);
    const chosen = [...text.matchAll(/--port (\d+)|embedded:(\d+)/g)].flatMap(
      ([, web, broker]) => web ?? broker ?? [],
    );
    const shown = [
      ...text.matchAll(/(?:127\.0\.0\.1|0\.0\.0\.0|localhost|lab-machine|https?:\/\/192\.168[.\d]+):(\d+)/g),
    ].map(([, number = '']) => number);
    expect(shown.filter((number) => !own.has(number) && !chosen.includes(number))).toEqual([]);
  });
});
