// The only manager forgot the password: whoever can start the program can make a new manager, and nobody else.

import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type LabProcess, joinAsFirst, startLabProcess, temporaryFolder } from './lab-process.ts';

let folder: { path: string; remove: () => Promise<void> };
let labProcess: LabProcess;

const start = (...more: string[]) =>
  startLabProcess({ data: folder.path, args: ['--port', '0', '--broker', 'embedded:0', ...more] });
const join = (code: string, name: string) =>
  labProcess.post('/api/join', { code, name, password: 'nine cold sticks of wax' });

beforeAll(async () => {
  folder = await temporaryFolder();
  labProcess = await start();
  await joinAsFirst(labProcess);
  await labProcess.stop();
});
afterAll(async () => {
  await labProcess?.stop();
  await folder?.remove();
});

describe('a lab whose only manager cannot sign in any more', () => {
  it('gets no code from an ordinary start', async () => {
    labProcess = await start();
    expect(labProcess.printed()).not.toContain('with the code');
    await labProcess.stop();
  });

  it('gets one from a start with --new-manager-code; it makes one manager, once', async () => {
    labProcess = await start('--new-manager-code');
    const code = /with the code (\S+) becomes manager/.exec(labProcess.printed())?.[1] ?? '';
    const joined = await join(code, 'Jonas Weil');
    expect(joined.status).toBe(200);
    expect(await joined.json()).toMatchObject({ standpoint: 'manager', name: 'Jonas Weil' });
    expect((await join(code, 'Somebody Else')).status).toBe(403);
  });
});
