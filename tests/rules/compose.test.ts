// The composition and the image as documents; the client of the composition reads it in tests/integration/composition.test.ts.

import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { validate } from 'dockerfile-utils';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';

const root = join(import.meta.dirname, '../..');
const text = readFileSync(join(root, 'docker-compose.yml'), 'utf8');
const wanted = [...text.matchAll(/\$\{(\w+):\?/g)].map(([, name = '']) => name);
const example = readFileSync(join(root, 'deploy/env.example'), 'utf8');
const broker = readFileSync(join(root, 'deploy/mosquitto/mosquitto.conf'), 'utf8');

interface Service {
  readonly healthcheck?: unknown;
  readonly profiles?: readonly string[];
  readonly depends_on?: Readonly<Record<string, { readonly condition: string }>>;
}
const { services } = parse(text) as { readonly services: Readonly<Record<string, Service>> };

const image = readFileSync(join(root, 'Dockerfile'), 'utf8');

describe('the composition of broker, series store and app', () => {
  it('has a health check for everything that stays up; the app has its own in the image', () => {
    const staying = Object.entries(services).filter(([, { profiles }]) => profiles === undefined);
    expect(staying.map(([name]) => name).sort()).toEqual(['broker', 'series', 'waxwarden']);
    for (const [name, { healthcheck }] of staying)
      if (name !== 'waxwarden') expect(healthcheck, name).toBeDefined();
    expect(image).toContain('HEALTHCHECK');
    expect(Object.values(services.waxwarden?.depends_on ?? {}).map(({ condition }) => condition)).toEqual([
      'service_healthy',
      'service_healthy',
    ]);
  });

  it('ships no password: each one it needs is demanded in the example', () => {
    expect(wanted.length).toBeGreaterThan(0);
    for (const name of wanted) expect(example).toMatch(new RegExp(`^${name}=$`, 'm'));
  });

  it('keeps the sessions and a day of messages at the broker, for people with a password', () => {
    expect(broker).toMatch(/^persistence true$/m);
    expect(broker).toMatch(/^allow_anonymous false$/m);
    expect(Number(/^max_queued_messages (\d+)$/m.exec(broker)?.[1])).toBeGreaterThanOrEqual(259_200);
    expect(Number(/^max_inflight_messages (\d+)$/m.exec(broker)?.[1])).toBeGreaterThan(20);
  });
});

describe('the image', () => {
  it('is described without a fault that a parser of its format finds', () => {
    expect(validate(image).map(({ message, range }) => [range.start.line + 1, message])).toEqual([]);
  });

  it('would be refused with one', () => {
    expect(validate(image.replace('COPY . .', 'COPPY . .'))).toHaveLength(1);
  });

  it('copies what is there and starts what the build makes', () => {
    const copied = [...image.matchAll(/^COPY (?!--from)(.+) \S+$/gm)].flatMap(([, files = '']) =>
      files.split(' '),
    );
    expect(copied.filter((file) => !existsSync(join(root, file)))).toEqual([]);
    const [, program = ''] = /^CMD \[.*"dist\/([\w/]+)\.js"\]$/m.exec(image) ?? [];
    expect(existsSync(join(root, `${program}.ts`))).toBe(true);
  });
});
