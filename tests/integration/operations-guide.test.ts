// The commands of the page for whoever runs the program, run by a shell as written there: only the folders, the ports
// and the year are others.

import { spawnSync } from 'node:child_process';
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readFileSync,
  renameSync,
  unlinkSync,
  writeFileSync,
} from 'node:fs';
import { join, resolve } from 'node:path';
import { connectAsync } from 'mqtt';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { selfMadeCertificate } from '../self-made-certificate.ts';
import { joinAsFirst, type LabProcess, startLabProcess, temporaryFolder } from './lab-process.ts';
import { until } from './until.ts';

const main = resolve('dist/cli/main.js');
const page = readFileSync(resolve('docs/operations.md'), 'utf8');
const commands = [...page.matchAll(/```sh\n(.*?)```/gs)].flatMap(([, block = '']) =>
  block.trim().split('\n'),
);

/** Starts of the pages that need nothing else in the network. */
const STARTS = ['operations', 'https'].flatMap((name) =>
  [
    ...readFileSync(resolve(`docs/${name}.md`), 'utf8').matchAll(
      /^npm start -- --(?!data|broker|store).*$/gm,
    ),
  ].map(([line]) => [name, line] as const),
);

let folder: { path: string; remove: () => Promise<void> };
beforeAll(async () => {
  folder = await temporaryFolder();
});
afterAll(() => folder.remove());

const here = (line: string): string =>
  line
    .replaceAll('/var/lib/waxwarden', join(folder.path, 'data'))
    .replaceAll('/backup/', `${folder.path}/`)
    .replaceAll('/tmp/waxwarden-trial', join(folder.path, 'trial'))
    .replaceAll('2031-', '2025-');
/** Every line that begins with the words. */
const linesOf = (words: string): readonly string[] =>
  commands.filter((line) => line.startsWith(`npm start -- ${words}`));
/** Prints what the command printed; `npm start` is the built program. */
const shell = (line: string): string => {
  const npm = `npm() { shift 2; "${process.execPath}" --disable-warning=ExperimentalWarning "${main}" "$@"; }`;
  const { status, stdout, stderr } = spawnSync('sh', ['-ec', `${npm}\n${here(line)}`], {
    cwd: folder.path,
    encoding: 'utf8',
  });
  expect([line, status, stderr]).toEqual([line, 0, '']);
  return stdout;
};
const start = async (line: string, args: readonly string[] = []): Promise<LabProcess> => {
  const [, data = ''] = /--data (\S+)/.exec(here(line)) ?? [];
  return startLabProcess({ data, args: ['--port', '0', '--broker', 'embedded:0', ...args] });
};

describe('the commands of the page on running the program', () => {
  it('start a lab, copy it while it runs, bring it back, and find it whole', async () => {
    const [first = '', trial = ''] = linesOf('--data');
    const lab = await start(first, ['--lab', resolve('lab/files/starter.yaml')]);
    await joinAsFirst(lab);
    const gateway = await connectAsync(/mqtt:\/\/\S+/.exec(lab.printed())?.[0] ?? '');
    await gateway.publishAsync('wax/my-lab/bench/pot/celsius', '61', { qos: 1 });
    await gateway.endAsync();
    await until(async () => (await fetch(`${lab.address}/api/health`)).ok);
    for (const line of linesOf('backup')) shell(line);
    expect(await lab.stop()).toBe(0);
    renameSync(join(folder.path, 'data'), join(folder.path, 'aside'));
    for (const line of linesOf('restore')) shell(line);
    for (const line of [...linesOf('verify'), ...linesOf('set-aside')]) shell(line);
    const again = await start(trial);
    // A person is there: nobody is asked to become the first.
    expect(again.printed()).not.toContain('No one can sign in yet');
    expect(await again.stop()).toBe(0);
  });

  it('set the folder aside before an update, and go back to it', async () => {
    writeFileSync(join(folder.path, 'data', 'of-the-version-before'), '');
    const [aside = '', back = ''] = commands.filter((line) => /^(cp -a|mv) /.test(line));
    shell(aside);
    unlinkSync(join(folder.path, 'data', 'of-the-version-before'));
    shell(back);
    expect(existsSync(join(folder.path, 'data', 'of-the-version-before'))).toBe(true);
    expect(existsSync(join(folder.path, 'data-newer'))).toBe(true);
  });

  it.each(STARTS)('start a lab as %s shows it: %s', async (_page, line) => {
    const { key, certificate } = await selfMadeCertificate();
    const files = { 'chain.pem': certificate, 'key.pem': key };
    for (const [name, text] of Object.entries(files)) writeFileSync(join(folder.path, name), text);
    const given = line
      .replace(/(chain|key)\.pem/g, (name) => join(folder.path, name))
      .split(' ')
      .slice(3);
    const lab = await startLabProcess({
      data: join(folder.path, 'shown'),
      args: [
        '--port',
        '0',
        '--http-port',
        '0',
        '--broker',
        'embedded:0',
        ...given,
        '--host',
        '127.0.0.1',
      ].map((word) => word.replace('embedded-tls:8883', 'embedded-tls:0')),
    });
    expect(new URL(lab.address).protocol).toBe(line.includes('--https') ? 'https:' : 'http:');
    expect(await lab.stop()).toBe(0);
  });

  it('take readings of another logger in, print them, and run them through the rules again', () => {
    writeFileSync(
      join(folder.path, 'logger.csv'),
      'When,Temp F\n02/05/2025 10:00:00,140\n02/05/2025 10:01:00,149\n',
    );
    copyFileSync(resolve('lab/files/starter.yaml'), join(folder.path, 'other-settings.yaml'));
    for (const line of linesOf('import')) shell(line);
    const [exported = ''] = linesOf('export').map(shell);
    expect(exported.trim().split('\n')).toEqual([
      'time,probe,celsius,quality',
      expect.stringMatching(/^2025-05-02T08:00:00(\.000)?Z,pot-1-a,60,/),
      expect.stringMatching(/^2025-05-02T08:01:00(\.000)?Z,pot-1-a,65,/),
    ]);
    const replays = linesOf('replay');
    expect(replays).toHaveLength(2);
    for (const line of replays) expect(shell(line)).not.toBe('');
  });
});

describe('the page on running the program as a service', () => {
  it('has a unit that systemd accepts', () => {
    const [, unit = ''] = /```ini\n(.*?)```/s.exec(page) ?? [];
    const file = join(folder.path, 'waxwarden.service');
    writeFileSync(file, unit.replace('/usr/bin/node', process.execPath));
    const { status, stderr } = spawnSync('systemd-analyze', ['verify', file], { encoding: 'utf8' });
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  });

  it('sets nothing in its environment that is no setting of the program', () => {
    const names = commands.flatMap((line) => /^(WAXWARDEN_\w+)=/.exec(line)?.[1] ?? []);
    expect(names.length).toBeGreaterThan(2);
    const help = shell('npm start -- --help');
    for (const name of names) expect(help).toContain(name);
  });

  it.runIf(process.getuid?.() === 0)('makes its user, who signs in nowhere, with one command', () => {
    const root = join(folder.path, 'root');
    mkdirSync(join(root, 'etc'), { recursive: true });
    for (const name of ['passwd', 'group', 'shadow', 'gshadow']) writeFileSync(join(root, 'etc', name), '');
    const [, ...words] = /`(useradd [^`]+)`/.exec(page)?.[1]?.split(' ') ?? [];
    const { status, stderr } = spawnSync('useradd', ['--prefix', root, ...words], { encoding: 'utf8' });
    expect([status, stderr]).toEqual([0, '']);
    expect(readFileSync(join(root, 'etc/passwd'), 'utf8')).toMatch(
      /^waxwarden:x:\d+:\d+::\/opt\/waxwarden:\/usr\/sbin\/nologin\n$/,
    );
  });
});
