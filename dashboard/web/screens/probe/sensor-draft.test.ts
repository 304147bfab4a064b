import { describe, expect, it } from 'vitest';
import type { Sensor } from '../../../../lab/sensor.ts';
import { sensorBody, sensorDraft, sensorOf, tolerancesOf } from './sensor-draft.ts';

const probe = (sensor?: Sensor, uncertainty_celsius = 0.5) => ({
  id: 'p',
  gateway: 'gw',
  station: 'pot',
  uncertainty_celsius,
  ...(sensor !== undefined && { sensor }),
});

describe('a sensor in the form', () => {
  it.each<readonly [Sensor]>([
    [{ kind: 'platinum', element: 'pt1000', wires: 2, lead_ohms: 0.4, tolerance: 'platinum-A' }],
    [{ kind: 'platinum', element: 'pt100', wires: 4 }],
    [{ kind: 'thermocouple', thermocouple: 'T', cold_junction_celsius: 23, tolerance: 'T-1' }],
    [{ kind: 'thermocouple', thermocouple: 'K', cold_junction_probe: 'box' }],
    [{ kind: 'thermistor', r25_ohms: 10_000, beta_kelvin: 3950 }],
    [{ kind: 'thermistor', a: 1e-3, b: 2e-4, c: 1e-7 }],
  ])('is saved as it was when nothing is changed: %j', (sensor) => {
    expect(sensorOf(sensorDraft(probe(sensor)))).toEqual(sensor);
  });

  it('that becomes another kind takes nothing of the old one along', () => {
    const draft = sensorDraft(probe({ kind: 'platinum', element: 'pt100', wires: 2, lead_ohms: 1 }));
    expect(sensorOf({ ...draft, kind: 'thermistor', r25_ohms: 5000 })).toEqual({
      kind: 'thermistor',
      r25_ohms: 5000,
    });
    expect(sensorOf({ ...draft, wires: 3 })).not.toHaveProperty('lead_ohms');
    expect(sensorOf({ ...draft, kind: '' })).toBeUndefined();
  });

  it('offers the classes of its kind, and drops one of another', () => {
    const draft = { ...sensorDraft(probe()), kind: 'thermocouple' as const, tolerance: 'K-1' };
    expect(tolerancesOf(draft)).toEqual(['K-1', 'K-2']);
    expect(sensorOf({ ...draft, thermocouple: 'T' })).not.toHaveProperty('tolerance');
  });

  it('moves an uncertainty that only came from its class, and none that was entered', () => {
    const sensor: Sensor = { kind: 'platinum', element: 'pt100', wires: 3, tolerance: 'platinum-B' };
    const draft = { ...sensorDraft(probe()), kind: 'platinum' as const, tolerance: 'platinum-B' };
    expect(sensorBody(probe(), draft)).toEqual({ station: 'pot', sensor });
    expect(sensorBody(probe(undefined, 0.2), draft)).toMatchObject({ uncertainty_celsius: 0.2 });
  });
});
