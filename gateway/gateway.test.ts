import { setImmediate as turn } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { SampleBuffer, type Waiting } from './buffer.ts';
import { Gateway } from './gateway.ts';
import type { ProbeSource, Sweep } from './sample.ts';

const measured = (probe: string, value: number): Sweep => ({
  samples: [{ probe, unit: 'Cel', value, at: 1000 }],
  faults: [],
});
const silent = (subject: string): Sweep => ({
  samples: [],
  faults: [{ subject, code: 'no-answer', detail: 'no answer' }],
});

function gatewayOf(sources: readonly ProbeSource[]) {
  const sent: Waiting[] = [];
  const lines: string[] = [];
  const buffer = new SampleBuffer(':memory:');
  const gateway = new Gateway({
    sources,
    buffer,
    mostWaiting: 100,
    uplink: { sendLive: async (sweep) => void sent.push(sweep), stop: async () => {} },
    now: () => 1000,
    monotonic: () => 0,
    isClockSet: () => true,
    log: (line) => lines.push(line),
  });
  return { gateway, buffer, sent, lines };
}

/** Resolves when it is let. */
function slowSource() {
  const waiting: ((sweep: Sweep) => void)[] = [];
  const source: ProbeSource = {
    sweep: () => new Promise((resolve) => waiting.push(resolve)),
    close: async () => {},
  };
  return { source, waiting };
}
const quickSource = (sweep: Sweep): ProbeSource => ({ sweep: async () => sweep, close: async () => {} });

describe('a gateway with a source that does not answer', () => {
  it('sends what the others measure, sweep after sweep, and reads the slow one again when it has answered', async () => {
    const slow = slowSource();
    const { gateway, sent } = gatewayOf([slow.source, quickSource(measured('quick', 61))]);
    const first = gateway.sweep();
    await turn();
    await gateway.sweep();
    await gateway.sweep();
    expect(sent.map(({ samples }) => samples[0]?.probe)).toEqual(['quick', 'quick', 'quick']);
    expect(slow.waiting).toHaveLength(1);
    slow.waiting[0]?.(measured('slow', 40));
    await first;
    expect(sent.at(-1)?.samples[0]?.probe).toBe('slow');
    expect(sent.map(({ sequence }) => sequence)).toEqual([1, 2, 3, 4]);
    void gateway.sweep();
    expect(slow.waiting).toHaveLength(2);
  });

  it('stops meanwhile, and takes no more from it', async () => {
    const slow = slowSource();
    const { gateway, sent } = gatewayOf([slow.source]);
    const sweep = gateway.sweep();
    await gateway.stop();
    slow.waiting[0]?.(measured('slow', 40));
    await sweep;
    expect(sent).toEqual([]);
  });
});

it('a gateway reports a fault once and its end once, each source for itself', async () => {
  const answers = [silent('pot-1'), silent('pot-1'), measured('pot-1', 60)];
  const source: ProbeSource = {
    sweep: async () => answers.shift() ?? measured('pot-1', 60),
    close: async () => {},
  };
  const { gateway, lines } = gatewayOf([source, quickSource(measured('other', 20))]);
  for (let sweep = 0; sweep < 4; sweep += 1) await gateway.sweep();
  expect(lines).toEqual(['pot-1: no-answer (no answer)', 'pot-1: reads again']);
});

it('a gateway whose disk takes nothing goes on sending what it measures, without a number, and logs that once', async () => {
  const { gateway, buffer, sent, lines } = gatewayOf([quickSource(measured('pot-1', 61))]);
  await gateway.sweep();
  buffer.close();
  await gateway.sweep();
  await gateway.sweep();
  expect(sent.map(({ sequence }) => sequence)).toEqual([1, null, null]);
  expect(sent.every(({ samples }) => samples[0]?.value === 61)).toBe(true);
  expect(lines).toEqual([expect.stringContaining('present values go on')]);
});
