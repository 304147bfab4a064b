// Battery and signal from the messages of each format to what the lab holds of a probe.

import { describe, expect, it } from 'vitest';
import type { Entry } from '../../lab/entry.ts';
import type { PayloadMapping } from '../../lab/database/payload-mapping.ts';
import { potLab } from '../../tests/rehearsal.ts';
import { type EpochMillis, epochMillis } from '../../wax/units.ts';
import { decodeMapped } from '../decode/mapped-json.ts';
import { decodeMessage } from '../decode/decode-message.ts';
import type { Decoded } from '../decode/message.ts';
import { seenStatus } from './device-status.ts';
import type { QualifyState } from './probe-record.ts';
import { qualify } from './qualify.ts';

const NOW = epochMillis(Date.UTC(2031, 2, 3, 8));
const LAB = { ...potLab(), probes: [] };

const bench = () => {
  const state: QualifyState = {};
  const take = ({ entries, rejections }: Decoded) => {
    const steps = entries.map((entry: Entry) => qualify(state, entry, LAB, () => null));
    return [...rejections, ...steps.flatMap((step) => step.rejections)].map(({ code }) => code);
  };
  const message = (topic: string, payload: unknown, receivedAt: EpochMillis = NOW) => ({
    topic,
    payload: new TextEncoder().encode(JSON.stringify(payload)),
    receivedAt,
    delivery: 'live' as const,
    site: LAB.site.id,
  });
  return {
    senml: (records: readonly object[], { gateway = 'gw', at = NOW } = {}) =>
      take(decodeMessage(message(`wax/${LAB.site.id}/${gateway}/senml`, records, at))),
    mapped: (payload: unknown, more: Partial<PayloadMapping> = {}) => {
      const mapping = {
        id: 'a',
        isOn: true,
        topic: 'pots/+',
        gateway: 'gw',
        probe: '{1}',
        value: '/t',
        unit: 'Cel' as const,
        battery: '/battery',
        signal: '/rssi',
        ...more,
      };
      return take(decodeMapped(message('pots/pot-1', payload), [mapping]) ?? { entries: [], rejections: [] });
    },
    status: (probe = 'pot-1', lowVolts: number | null = null) => seenStatus(state, probe, 'gw', lowVolts),
  };
};
const pot = { n: 'pot-1', u: 'Cel', v: 61.5 };

describe('the battery and the signal of a probe', () => {
  it.each([
    ['under the name of the probe', 'pot-1'],
    ['under a name below it', 'urn:dev:pot-1/battery'],
  ])('come in a SenML pack %s', (_, n) => {
    const { senml, status } = bench();
    expect(senml([pot, { n, u: '%EL', v: 64 }, { n: 'pot-1', u: 'dBm', v: -71 }])).toEqual([]);
    expect(status()).toMatchObject({ at: NOW, battery_percent: 64, isBatteryLow: false, signal_dbm: -71 });
  });

  it('come from a mapping of JSON, with a reading or alone', () => {
    const { mapped, status } = bench();
    expect(mapped({ t: 61.5, battery: '21', rssi: -80 })).toEqual([]);
    expect(mapped({ battery: 20 })).toEqual([]);
    expect(status()).toMatchObject({ at: NOW, battery_percent: 20, isBatteryLow: true, signal_dbm: -80 });
    expect(mapped({ humidity: 40 })).toEqual(['mapping-no-value']);
  });

  it.each([
    [21, false],
    [20, true],
    [0, true],
  ])('of %d %% are low: %s', (v, low) => {
    const { senml, status } = bench();
    senml([pot, { n: 'pot-1', u: '%EL', v }]);
    expect(status()?.isBatteryLow).toBe(low);
  });

  it.each([
    ['in volts', { u: 'V', v: 2.9 }],
    ['in millivolts', { u: 'mV', v: 2900 }],
  ])('come %s under a name that says so, and are low by the limit of the lab alone', (_, given) => {
    const { senml, status } = bench();
    expect(senml([pot, { n: 'pot-1/battery', ...given }])).toEqual([]);
    expect(status()).toMatchObject({ battery_volts: 2.9, battery_low_volts: null, isBatteryLow: false });
    expect(status('pot-1', 2.9)?.isBatteryLow).toBe(true);
    expect(status('pot-1', 2.8)?.isBatteryLow).toBe(false);
  });

  it('come in the unit that the mapping names', () => {
    const { mapped, status } = bench();
    expect(mapped({ t: 61.5, battery: 3050 }, { batteryUnit: 'mV' })).toEqual([]);
    expect(status()).toMatchObject({ battery_percent: null, battery_volts: 3.05 });
  });

  it('are no battery where volts bear the name of the probe alone', () => {
    const { senml, status } = bench();
    expect(senml([pot, { n: 'pot-1', u: 'V', v: 0.0041 }])).toEqual(['sensor-not-described']);
    expect(status()).toBeUndefined();
  });

  it.each([
    { n: 'pot-1/battery', u: 'V', v: 61 },
    { u: '%EL', v: 101 },
    { u: '%EL', v: -1 },
    { u: '%EL', vs: 'full' },
    { u: 'dBm', v: 61 },
  ])('that cannot be are refused, and the reading beside them is taken: $u $v', (wrong) => {
    const { senml, status } = bench();
    expect(senml([pot, { n: 'pot-1', ...wrong }])).toEqual(['status-out-of-range']);
    expect(status()).toBeUndefined();
  });

  it('of a gateway hold for its probes that report none of their own', () => {
    const { senml, status } = bench();
    senml([pot, { n: 'pot-2', u: 'Cel', v: 60 }, { n: 'gateway/battery', u: '%EL', v: 15 }]);
    senml([{ n: 'pot-2', u: '%EL', v: 90 }]);
    expect([status('pot-1')?.battery_percent, status('pot-2')?.battery_percent]).toEqual([15, 90]);
  });

  it('of a name that never measured, or through another gateway, are quarantined', () => {
    const { senml, status } = bench();
    senml([pot]);
    expect(senml([{ n: 'made-up', u: '%EL', v: 5 }])).toEqual(['status-without-probe']);
    expect(senml([{ n: 'pot-1', u: '%EL', v: 5 }], { gateway: 'gw-2' })).toEqual(['status-without-probe']);
    expect(status()).toBeUndefined();
  });

  it('of the past do not replace newer ones', () => {
    const { senml, status } = bench();
    senml([pot, { n: 'pot-1', u: '%EL', v: 15, t: -1 }]);
    senml([{ n: 'pot-1', u: '%EL', v: 80, t: -86_400 }], { at: epochMillis(NOW + 5000) });
    expect(status()?.battery_percent).toBe(15);
  });

  it('stamped by a clock far ahead are of their arrival, and hold up nothing', () => {
    const { senml, status } = bench();
    senml([pot, { n: 'pot-1', u: '%EL', v: 15, t: Date.UTC(2100, 0) / 1000 }]);
    expect(status()?.at).toBe(NOW);
    senml([{ n: 'pot-1', u: '%EL', v: 100 }], { at: epochMillis(NOW + 60_000) });
    expect(status()?.battery_percent).toBe(100);
  });
});
