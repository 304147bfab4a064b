import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { brotliCompressSync, brotliDecompressSync } from 'node:zlib';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type ServerForTests, serverForTests } from '../../tests/server-for-tests.ts';

const SCRIPT = `export const words = ${JSON.stringify('wax '.repeat(400))};`;

describe('the built screens', () => {
  let folder: string;
  let test: ServerForTests;
  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'waxwarden-web-'));
    mkdirSync(join(folder, 'assets'));
    writeFileSync(join(folder, 'index.html'), '<!doctype html><title>Lab</title>');
    writeFileSync(join(folder, 'assets', 'wall-abc.js'), SCRIPT);
    writeFileSync(join(folder, 'assets', 'wall-abc.js.br'), brotliCompressSync(SCRIPT));
    test = await serverForTests({ webRoot: folder });
  });
  afterEach(async () => {
    await test.close();
    rmSync(folder, { recursive: true });
  });
  const get = (url: string, headers: Record<string, string> = {}) =>
    test.server.inject({ method: 'GET', url, headers: { accept: 'text/html', ...headers } });

  it('send the compressed form that the build made to who takes it, and the plain one to who does not', async () => {
    const brotli = await get('/assets/wall-abc.js', { 'accept-encoding': 'gzip, br' });
    expect(brotli.headers).toMatchObject({
      'content-encoding': 'br',
      vary: expect.stringMatching(/accept-encoding/i),
    });
    expect(brotli.headers['content-type']).toContain('javascript');
    expect(brotliDecompressSync(brotli.rawPayload).toString()).toBe(SCRIPT);
    const plain = await get('/assets/wall-abc.js');
    expect(plain.headers).not.toHaveProperty('content-encoding');
    expect(plain.body).toBe(SCRIPT);
  });

  it('keep what is named by its content for ever and have the page requested each time', async () => {
    for (const encoding of ['br', 'identity'])
      expect(
        (await get('/assets/wall-abc.js', { 'accept-encoding': encoding })).headers['cache-control'],
      ).toBe('public, max-age=31536000, immutable');
    for (const path of ['/', '/wall', '/station/pot-1'])
      expect((await get(path)).headers['cache-control']).toBe('no-cache');
  });
});
