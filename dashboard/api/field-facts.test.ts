import { Type } from 'typebox';
import { describe, expect, it } from 'vitest';
import { formFields, unitOf } from './field-facts.ts';
import { FORM_FIELDS } from './form-fields.ts';

describe('the unit of a field', () => {
  it.each([
    ['window_celsius', 'celsius'],
    ['correction_celsius', 'celsius-difference'],
    ['reference_uncertainty_celsius', 'celsius-difference'],
    ['ramp_celsius_per_hour', 'celsius-difference'],
    ['lengthMillimetres', 'millimetres'],
    ['grams', 'grams'],
    ['afterMinutes', 'minutes'],
    ['name', undefined],
    ['programs', undefined],
  ])('of %s is %s, by the end of its name', (name, unit) => {
    expect(unitOf(name)).toBe(unit);
  });
});

describe('the fields of a form', () => {
  it('carry the limits of the schema and whether they must be given', () => {
    const body = Type.Object({
      grams: Type.Number({ exclusiveMinimum: 0, maximum: 20 }),
      note: Type.Optional(Type.String({ maxLength: 5 })),
    });
    expect(formFields(body)).toEqual({
      grams: {
        type: 'number',
        isRequired: true,
        isNullable: false,
        unit: 'grams',
        exclusiveMinimum: 0,
        maximum: 20,
      },
      note: { type: 'string', isRequired: false, isNullable: false, maxLength: 5 },
    });
  });

  it('have choices where the schema lists values, as an enumeration or as constants', () => {
    const body = Type.Object({
      paper: Type.Enum(['a4', 'letter']),
      state: Type.Union([Type.Literal('waiting'), Type.Literal('all')]),
      email: Type.Union([Type.String({ maxLength: 9 }), Type.Null()]),
    });
    expect(formFields(body)).toMatchObject({
      paper: { type: 'string', choices: ['a4', 'letter'] },
      state: { type: 'string', choices: ['waiting', 'all'] },
      email: { type: 'string', isNullable: true, maxLength: 9 },
    });
  });

  it('are data alone, so that the build can write them out', () => {
    expect(JSON.parse(JSON.stringify(FORM_FIELDS))).toEqual(FORM_FIELDS);
    expect(FORM_FIELDS.station.ceiling_celsius).toMatchObject({
      unit: 'celsius',
      minimum: -40,
      maximum: 150,
    });
    expect(FORM_FIELDS.probe.calibration?.fields?.points?.items?.fields?.reading_celsius).toMatchObject({
      unit: 'celsius',
      maximum: 500,
    });
  });
});
