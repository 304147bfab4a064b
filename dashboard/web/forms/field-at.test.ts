import { describe, expect, it } from 'vitest';
import { FORM_FIELDS } from '../../api/form-fields.ts';
import { fieldAt } from './field-at.ts';

const { station, probe, 'notification-plan': plan } = FORM_FIELDS;

describe('a field of a form', () => {
  it('is found by its name', () => {
    expect(fieldAt(station, 'name')).toBe(station.name);
  });
  it('is found within a list and within an object', () => {
    expect(fieldAt(station, 'window_celsius/1')).toMatchObject({
      unit: 'celsius',
      minimum: -40,
      maximum: 150,
    });
    expect(fieldAt(probe, 'calibration/points/2/scatter_celsius').unit).toBe('celsius-difference');
    expect(fieldAt(plan, 'escalation/0/who').choices?.length).toBeGreaterThan(1);
    expect(fieldAt(plan, 'rota/handoverTime').isRequired).toBe(true);
  });
  it.each(['colour', 'window_celsius/low', 'name/0', ''])(
    '%j that the form does not have is refused',
    (path) => {
      expect(() => fieldAt(station, path)).toThrow(/has no field/);
    },
  );
});
