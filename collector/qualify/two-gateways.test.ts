import { describe, expect, it } from 'vitest';
import { qualifyStep, labWith, probe, reading, said, run, outcomes } from '../../tests/qualify-for-tests.ts';

describe('one probe id from two gateways', () => {
  it('belongs to the first while it is alive', () => {
    expect(outcomes(reading(0, 60), reading(10, 20, 'gw-2'), reading(20, 60.1))).toEqual([
      'good',
      'probe-of-another-gateway',
      'good',
    ]);
  });

  it.each([
    [179, 'probe-of-another-gateway'],
    [180, 'good'],
  ])('goes over when the first was silent for three minutes: after %d s it is %s', (seconds, outcome) => {
    expect(outcomes(reading(0, 60), reading(seconds, 20, 'gw-2'))).toEqual(['good', outcome]);
  });

  it('goes over at once when the first has reported itself offline', () => {
    expect(outcomes(reading(0, 60), said(5, false), reading(10, 20, 'gw-2'))).toEqual(['good', 'good']);
  });

  it('stays with the first when its offline is older than its newest reading', () => {
    expect(outcomes(said(0, false), reading(1, 60), reading(10, 20, 'gw-2'))).toEqual([
      'good',
      'probe-of-another-gateway',
    ]);
  });

  it('belongs to the gateway that the lab names, whoever was first', () => {
    const lab = labWith(probe({ gateway: 'gw-2' }));
    expect(run(lab, reading(0, 60), reading(10, 20, 'gw-2'), reading(20, 60)).outcomes).toEqual([
      'good',
      'good',
      'probe-of-another-gateway',
    ]);
  });

  it('leaves nothing behind when it is refused, and names who owns it', () => {
    const { state } = run(labWith(), reading(0, 60));
    const step = qualifyStep(state, reading(10, 20, 'gw-2'), labWith());
    expect(step).toMatchObject({ state, changedParts: [], entry: null });
    expect(step.rejections[0]?.values).toEqual({ probe: 'pot-1', owner: 'gw-1', gateway: 'gw-2' });
  });
});
