// The only manager forgot the password: whoever can start the program can make a new manager, and nobody else.

import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type House, joinAsFirst, startHouse, temporaryFolder } from './house.ts';

let folder: { path: string; remove: () => Promise<void> };
let house: House;

const start = (...more: string[]) =>
  startHouse({ data: folder.path, args: ['--port', '0', '--broker', 'embedded:0', ...more] });
const join = (code: string, name: string) =>
  house.post('/api/join', { code, name, password: 'nine cold sticks of wax' });

beforeAll(async () => {
  folder = await temporaryFolder();
  house = await start();
  await joinAsFirst(house);
  await house.stop();
});
afterAll(async () => {
  await house?.stop();
  await folder?.remove();
});

describe('a lab whose only manager cannot sign in any more', () => {
  it('gets no code from an ordinary start', async () => {
    house = await start();
    expect(house.printed()).not.toContain('with the code');
    await house.stop();
  });

  it('gets one from a start that asks for it; it makes one manager, once', async () => {
    house = await start('--new-manager-code');
    const code = /with the code (\S+) becomes manager/.exec(house.printed())?.[1] ?? '';
    const joined = await join(code, 'Jonas Weil');
    expect(joined.status).toBe(200);
    expect(await joined.json()).toMatchObject({ standpoint: 'manager', name: 'Jonas Weil' });
    expect((await join(code, 'Somebody Else')).status).toBe(403);
  });
});
