import { Validator } from '@seriousme/openapi-schema-validator';
import { describe, expect, it } from 'vitest';
import { serverForTests } from '../../tests/server-for-tests.ts';
import { PROBLEMS } from '../../wax/problem-catalogue.ts';

describe('the description of the interface', () => {
  it('is valid OpenAPI 3.1, and every operation states what it does, whom it serves and how it fails', async () => {
    const test = await serverForTests();
    const description = (await test.browser().send('GET', '/api/openapi.json')).json();
    const verdict = await new Validator().validate(structuredClone(description));
    expect(verdict.errors ?? []).toEqual([]);
    expect(verdict.valid).toBe(true);
    expect(description.openapi).toBe('3.1.0');
    const operations = Object.entries<
      Record<string, { summary?: string; description?: string; responses: object; operationId: string }>
    >(description.paths).flatMap(([path, methods]) =>
      Object.entries(methods).map(([method, operation]) => ({ name: `${method} ${path}`, operation })),
    );
    expect(operations.length).toBeGreaterThan(50);
    for (const { name, operation } of operations) {
      expect([name, operation.summary ?? '']).toEqual([name, expect.stringMatching(/\w/)]);
      expect([name, operation.description]).toEqual([name, expect.stringContaining('Needs `')]);
      expect([name, Object.keys(operation.responses)]).toEqual([name, ['200', '4XX', '5XX']]);
    }
    expect(new Set(operations.map(({ operation }) => operation.operationId)).size).toBe(operations.length);
    for (const path of [
      '/api/health',
      '/api/stations',
      '/api/probes',
      '/api/readings',
      '/api/alarms',
      '/api/patterns',
      '/api/quarantine',
      '/api/live',
      '/metrics',
      '/api/alarms/{id}/acknowledge',
    ])
      expect(Object.keys(description.paths)).toContain(path);
    await test.close();
  });

  it('can be read as a page without a script, where each kind of problem has its place', async () => {
    const test = await serverForTests();
    const page = await test.browser().send('GET', '/api/');
    expect(page.headers['content-type']).toContain('text/html');
    expect(page.body).not.toMatch(/<script|style=|onclick/);
    expect(page.body).toContain('POST /api/alarms/{id}/acknowledge');
    const codes = Object.entries(PROBLEMS).flatMap(([code, { status }]) => (status === null ? [] : [code]));
    for (const code of codes) expect(page.body).toContain(`id="problem-${code}"`);
    await test.close();
  });
});

describe('/metrics', () => {
  it('keeps to the naming rules: help and type for each, units in the name, `_total` for counters alone', async () => {
    const test = await serverForTests({ demo: true });
    test.lab.stand({ station: 'pot-1', celsius: 71.5 as never });
    test.lab.stand({ station: 'shelf-1', celsius: 20 as never, condition: 'no-data' });
    test.lab.raise('over-ceiling', 'pot-1');
    await test.browser().send('GET', '/api/stations');
    const answer = await test.browser().send('GET', '/metrics');
    const lines = answer.body.split('\n').filter((line) => line !== '');
    const types = new Map(
      lines.flatMap((line) => {
        const [, name = '', type = ''] = /^# TYPE (\S+) (\S+)$/.exec(line) ?? [];
        return name === '' ? [] : [[name, type] as const];
      }),
    );
    for (const [name, type] of types) {
      expect(name).toMatch(/^[a-z][a-z0-9_]*$/);
      expect(lines.filter((line) => line.startsWith(`# HELP ${name} `))).toHaveLength(1);
      expect([name, name.endsWith('_total')]).toEqual([name, type === 'counter']);
    }
    expect(lines).toContain('waxwarden_station_temperature_celsius{station="pot-1",kind="melt-pot"} 71.5');
    expect(answer.body).not.toContain('waxwarden_station_temperature_celsius{station="shelf-1"');
    expect(lines).toContain('waxwarden_alarms_open{priority="high",acknowledged="false"} 1');
    expect(lines).toContain('waxwarden_part_up{part="store"} 1');
    expect(answer.body).toContain(
      'waxwarden_http_request_duration_seconds_count{method="GET",route="/api/stations",status="200"} 1',
    );
    await test.close();
  });
});
