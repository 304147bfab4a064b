// The composition as its own client reads it, with every profile; that needs no engine.

import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const text = readFileSync(resolve('docker-compose.yml'), 'utf8');
const matches = (pattern: RegExp): readonly string[] => [
  ...new Set([...text.matchAll(pattern)].map(([, name = '']) => name)),
];
const wanted = matches(/\$\{(\w+):\?/g);
const profiles = matches(/profiles: \["([\w-]+)"\]/g);

const config = (given: readonly string[]) =>
  spawnSync('docker-compose', [...profiles.flatMap((name) => ['--profile', name]), 'config', '-q'], {
    env: { PATH: process.env.PATH, ...Object.fromEntries(given.map((name) => [name, 'x'])) },
    encoding: 'utf8',
  });

describe('the composition of broker, series store and app', () => {
  it('is understood by its client, with every profile', () => {
    expect(profiles.length).toBeGreaterThan(0);
    const { status, stderr } = config(wanted);
    expect({ status, stderr: status === 0 ? '' : stderr }).toEqual({ status: 0, stderr: '' });
  });

  it('is refused by it where a password is missing, which it names', () => {
    const [missing = '', ...given] = wanted;
    const { status, stderr } = config(given);
    expect({ status, isNamed: stderr.includes(missing) }).toEqual({ status: 1, isNamed: true });
  });
});
