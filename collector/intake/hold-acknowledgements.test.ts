import { PassThrough } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { holdAcknowledgements } from './hold-acknowledgements.ts';

const turn = () => new Promise(setImmediate);

describe('held acknowledgements', () => {
  it('of one commit leave in one write, as PUBACKs in order', async () => {
    const connection = new PassThrough();
    const acknowledgements = holdAcknowledgements();
    const writes: Buffer[] = [];
    connection.on('data', (bytes: Buffer) => writes.push(bytes));
    for (const id of [1, 0x1234, 0xffff]) acknowledgements.add(connection, id);
    await turn();
    expect(writes).toEqual([Buffer.from([0x40, 2, 0, 1, 0x40, 2, 0x12, 0x34, 0x40, 2, 0xff, 0xff])]);
  });

  it('go to the connection that the message came on, never to the one after it', async () => {
    const [old, fresh] = [new PassThrough(), new PassThrough()];
    const acknowledgements = holdAcknowledgements();
    old.destroy();
    acknowledgements.add(old, 7);
    acknowledgements.add(fresh, 8);
    await turn();
    expect(old.read()).toBeNull();
    expect(fresh.read()).toEqual(Buffer.from([0x40, 2, 0, 8]));
  });
});
