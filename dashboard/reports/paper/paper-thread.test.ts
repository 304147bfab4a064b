import { describe, expect, it } from 'vitest';
import { problemOf } from '../../../wax/problem-error.ts';
import type { NightSheet } from '../../api/night.ts';
import type { PaperOrder } from '../night/paper-order.ts';
import { paperThread } from './paper-thread.ts';

const order: PaperOrder = {
  kind: 'night',
  sheet: {} as NightSheet,
  timeZone: 'UTC',
  size: 'a4',
  reader: { language: 'en', temperatureUnit: 'celsius', hourCycle: 'h23' },
};
const codeOf = (asked: Promise<unknown>): Promise<string> =>
  asked.then(
    () => 'drawn',
    (error: unknown) => problemOf(error, 'internal-error').code,
  );

describe('the thread that draws', () => {
  it('draws nothing for whoever is gone, and refuses those who find twenty waiting', async () => {
    const make = paperThread();
    const gone = AbortSignal.abort();
    const codes = await Promise.all(Array.from({ length: 22 }, () => codeOf(make(order, gone))));
    expect(codes.filter((code) => code === 'sheets-waiting')).toHaveLength(2);
    expect(codes).not.toContain('drawn');
    expect(await codeOf(make(order, gone))).not.toBe('sheets-waiting');
  });

  it('reports why a sheet could not be drawn', async () => {
    const make = paperThread();
    const asked = make(order, new AbortController().signal);
    await expect(asked).rejects.toThrow('Invalid time value');
  });
});
