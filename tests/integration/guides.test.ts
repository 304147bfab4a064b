// The commands of the guides, run as written there against a real lab; only address, code, site and port are those of
// the test.

import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { joinAsFirst, type LabProcess, startLabProcess, temporaryFolder } from './lab-process.ts';
import { until } from './until.ts';

const guide = (name: string): string => readFileSync(resolve('docs', `${name}.md`), 'utf8');
const main = resolve('dist/cli/main.js');
const lineWith = (text: string, beginning: string): string =>
  text
    .split('\n')
    .map((line) => line.trim())
    .find((line) => line.startsWith(beginning)) ?? `${beginning}: is not in the guide`;

let folder: { path: string; remove: () => Promise<void> };
let labProcess: LabProcess;
let cookie: string;
let mqttPort: string;
let gateway: ChildProcess | null = null;

interface Seen {
  readonly id: string;
  readonly gateway: string;
  readonly celsius: number | null;
  readonly status: { readonly battery_percent: number | null } | null;
}
const get = async <T>(path: string): Promise<T> => {
  const response = await fetch(labProcess.address + path, { headers: { cookie } });
  if (!response.ok) throw new Error(`${path}: ${response.status}`);
  return (await response.json()) as T;
};
const seen = (id: string): Promise<Seen> =>
  until(async () => (await get<readonly Seen[]>('/api/probes')).find((probe) => probe.id === id));

beforeAll(async () => {
  folder = await temporaryFolder();
  labProcess = await startLabProcess({
    data: join(folder.path, 'data'),
    args: ['--port', '0', '--broker', 'embedded:0'],
  });
  cookie = await joinAsFirst(labProcess);
  mqttPort = /mqtt:\/\/127\.0\.0\.1:(\d+)/.exec(labProcess.printed())?.[1] ?? '';
});
afterAll(async () => {
  if (gateway !== null && gateway.exitCode === null) {
    const ended = once(gateway, 'exit');
    gateway.kill();
    await ended;
  }
  await labProcess?.stop();
  await folder?.remove();
});

describe('the guide to connect a probe', () => {
  it('has a first reading in one line, whose probe appears', async () => {
    const { site } = await get<{ readonly site: string }>('/api/health');
    const line = lineWith(guide('connect-a-probe'), 'mosquitto_pub').replace('SITE', site);
    const wrapped = `mosquitto_pub() { command mosquitto_pub -p ${mqttPort} "$@"; }\n${line}`;
    const { status, stderr } = spawnSync('sh', ['-ec', wrapped], { encoding: 'utf8' });
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect(await seen('pot-1')).toMatchObject({ gateway: 'bench-1', celsius: 61.5 });
  });
});

/** The indented JSON of a guide that begins so, on one line. */
const jsonIn = (text: string, beginning: string): string => {
  const from = text.indexOf(`    ${beginning}`);
  const block = text.slice(from, text.indexOf('\n\n', from));
  return JSON.stringify(JSON.parse(block));
};
const publish = (topic: string, payload: string): void => {
  const { status, stderr } = spawnSync(
    'mosquitto_pub',
    ['-h', '127.0.0.1', '-p', mqttPort, '-q', '1', '-t', topic, '-m', payload],
    { encoding: 'utf8' },
  );
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
};

describe('the messages of the guide to connect a probe', () => {
  const text = guide('connect-a-probe');

  it('are taken as they are: a pack with times, and a battery beside a reading', async () => {
    const { site } = await get<{ readonly site: string }>('/api/health');
    publish(`wax/${site}/bench-1/senml`, jsonIn(text, '[{"bn":"urn:dev:ow:","bt"'));
    expect(await seen('28ff641e8416')).toMatchObject({ gateway: 'bench-1', celsius: 61.6 });
    publish(`wax/${site}/bench-1/senml`, jsonIn(text, '[{"bn":"urn:dev:ow:","n"'));
    const reported = await until(async () => {
      const { status } = await seen('28ff641e8416');
      return status;
    });
    expect(reported).toMatchObject({ battery_percent: 64, isBatteryLow: false });
  });

  it('of other devices become readings by the mapping that it describes', async () => {
    const [, topic = '', probe = '', example = ''] =
      /with the filter `([^`]+)` and the name `([^`]+)`, a message on `([^`]+)`/.exec(text) ?? [];
    const mapping = {
      isOn: true,
      topic,
      probe,
      gateway: 'loggers',
      value: '/temp',
      unit: 'Cel',
      battery: '/battery',
    };
    const saved = await fetch(`${labProcess.address}/api/payload-mappings/loggers`, {
      method: 'PUT',
      headers: { 'content-type': 'application/json', origin: labProcess.address, cookie },
      body: JSON.stringify(mapping),
    });
    expect(saved.status).toBe(200);
    const named = example.split('/')[1] ?? '';
    const taken = await until(async () => {
      publish(example.replace(named, 'logger-1'), '{"temp":40.5,"battery":18}');
      return (await get<readonly Seen[]>('/api/probes')).find(
        ({ id, status }) => id === 'logger-1' && status,
      );
    });
    expect(taken).toMatchObject({ gateway: 'loggers', celsius: 40.5, status: { isBatteryLow: true } });
  });
});

describe('the guide of the gateway', () => {
  const pairLine = lineWith(guide('gateway'), 'waxwarden gateway pair');
  const startLine = lineWith(
    guide('gateway').slice(guide('gateway').indexOf('## Start it')),
    'waxwarden gateway',
  );
  const words = (line: string): readonly string[] => line.split(' ').slice(1);

  it('pairs a gateway by one command with one code, and starts it by another; its probes appear', async () => {
    const chip = join(folder.path, 'w1', '28-000000000001');
    mkdirSync(chip, { recursive: true });
    writeFileSync(join(chip, 'w1_slave'), 'd8 03 4b 46 7f ff 0c 10 5c : crc=5c YES\nd8 t=61500\n');
    writeFileSync(
      join(folder.path, 'gateway.yaml'),
      `every_seconds: 1\nclock: trusted\none_wire: { folder: ${join(folder.path, 'w1')}, probes: { 28-000000000001: pot-9 } }\n`,
    );
    const made = await fetch(`${labProcess.address}/api/gateways`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', origin: labProcess.address, cookie },
      body: JSON.stringify({ gateway: 'board-1' }),
    });
    const { code } = (await made.json()) as { readonly code: string };
    const line = pairLine.replace(/http:\S+/, labProcess.address).replace(/[A-Z]{5}-[A-Z]{5}/, code);
    const paired = spawnSync(process.execPath, [main, ...words(line)], {
      cwd: folder.path,
      encoding: 'utf8',
    });
    expect({ status: paired.status, stderr: paired.stderr }).toMatchObject({
      status: 0,
      stderr: expect.stringContaining('paired as "board-1"'),
    });
    gateway = spawn(process.execPath, [main, ...words(startLine)], { cwd: folder.path, stdio: 'ignore' });
    expect(await seen('pot-9')).toMatchObject({ gateway: 'board-1', celsius: 61.5 });
    const gateways = await until(async () => {
      const all =
        await get<readonly { readonly gateway: string; readonly sweeps: { missing: number } | null }[]>(
          '/api/gateways',
        );
      // What it kept before it was connected comes after the present.
      return all.some((each) => each.gateway === 'board-1' && each.sweeps?.missing === 0) ? all : null;
    });
    expect(gateways).toContainEqual(
      expect.objectContaining({
        gateway: 'board-1',
        pairedAt: expect.any(String),
        online: true,
        sweeps: { newest: expect.any(Number), missing: 0 },
      }),
    );
  });
});

/** Lines of a page that begin so, indented or in a fence; a line that goes on below is one. */
const commandsOf = (page: string, beginning: string): readonly string[] =>
  page
    .replace(/\\\n\s*/g, ' ')
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line.startsWith(beginning));
const printedBy = (line: string, environment: Readonly<Record<string, string>>): string => {
  const here = line.replace(/http:\/\/[\d.]+:8460/, labProcess.address).replace('curl ', 'curl -sf ');
  const { status, stdout } = spawnSync('sh', ['-c', here], {
    encoding: 'utf8',
    env: { ...process.env, ...environment },
  });
  expect([line, status]).toEqual([line, 0]);
  return stdout;
};
const shell = (line: string, environment: Readonly<Record<string, string>>): unknown =>
  JSON.parse(printedBy(line, environment));
let tokens = 0;
const tokenOf = async (role: string): Promise<string> => {
  tokens += 1;
  const made = await fetch(`${labProcess.address}/api/tokens`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', origin: labProcess.address, cookie },
    body: JSON.stringify({ name: `Guide ${tokens}`, role }),
  });
  return ((await made.json()) as { readonly secret: string }).secret;
};

describe('the guide to the interface for programs', () => {
  const text = guide('api');

  it('reads by a token what its lines name, each as written there', async () => {
    const [stations = '', live = ''] = commandsOf(text, 'curl');
    expect(shell(stations, { TOKEN: await tokenOf('viewer') })).toEqual(expect.any(Array));
    expect(live).toContain('/api/live');
    const token = await tokenOf('manager');
    const paths = commandsOf(text, 'GET /api').map((line) => line.split(/\s+/)[1] ?? '');
    expect(paths.length).toBeGreaterThan(8);
    for (const path of paths) {
      const asked = path
        .replace('from=...', 'from=2030-03-01T00:00:00Z')
        .replace('to=...', 'to=2030-03-02T00:00:00Z');
      const { status } = await fetch(labProcess.address + asked, {
        headers: { authorization: `Bearer ${token}` },
      });
      expect([path, status]).toEqual([path, 200]);
    }
  });

  it('reads the figures of the program by its line', async () => {
    const line = commandsOf(text, 'curl').find((each) => each.endsWith('/metrics')) ?? '';
    expect(printedBy(line, { TOKEN: await tokenOf('viewer') })).toContain('waxwarden_intake_messages_total');
  });

  it('acknowledges an alarm by its line', async () => {
    const { site } = await get<{ readonly site: string }>('/api/health');
    const station = { name: 'Guide pot', kind: 'melt-pot', wax: 'inlay-type-2' };
    const put = (path: string, body: object) =>
      fetch(labProcess.address + path, {
        method: 'PUT',
        headers: { 'content-type': 'application/json', origin: labProcess.address, cookie },
        body: JSON.stringify(body),
      });
    expect((await put('/api/stations/guide-pot', station)).status).toBe(200);
    publish(`wax/${site}/bench-1/guide-probe/celsius`, '60');
    await seen('guide-probe');
    const probe = { station: 'guide-pot', correction_celsius: 0, uncertainty_celsius: 0.5 };
    expect((await put('/api/probes/guide-probe', probe)).status).toBe(200);
    const alarm = await until(async () => {
      publish(`wax/${site}/bench-1/guide-probe/celsius`, '150');
      return (await get<readonly { readonly id: string; readonly station: string }[]>('/api/alarms')).find(
        (each) => each.station === 'guide-pot',
      );
    });
    const [line = ''] = commandsOf(text, 'curl -X POST');
    expect(shell(line, { TOKEN: await tokenOf('technician'), ID: alarm.id })).toMatchObject({
      id: alarm.id,
      acknowledgedAt: expect.any(String),
    });
  });
});

describe('the page on running the program', () => {
  it('pairs a gateway by its two lines', async () => {
    const [invite = '', pair = ''] = commandsOf(guide('operations'), 'curl -X POST');
    const { code } = shell(invite, { TOKEN: await tokenOf('manager') }) as { readonly code: string };
    expect(shell(pair.replace('K7QPX-2MDRT', code), {})).toMatchObject({
      gateway: 'bench-1',
      user: 'bench-1',
    });
  });
});

describe('the page on HTTPS', () => {
  it('prints what it shows when the lab has an authority of its own', async () => {
    const [, command = '', printed = ''] =
      /```sh\nnpm start -- ([^\n]+)\n```[\s\S]+?```\n(Open [\s\S]+?)```/.exec(guide('https')) ?? [];
    const secure = await startLabProcess({
      data: join(folder.path, 'secure'),
      args: [...command.split(' '), '--port', '0', '--http-port', '0', '--broker', 'embedded:0'],
    });
    const alike = (text: string): string =>
      text.replace(/:\d{4,5}/g, ':PORT').replace(/([0-9A-F]{2} )+([0-9A-F]{2}|\.\.\.)/, 'DIGEST');
    await until(() => secure.printed().includes('fingerprint'));
    for (const line of printed.trim().split('\n')) expect(alike(secure.printed())).toContain(alike(line));
    expect(await secure.stop()).toBe(0);
  });
});
