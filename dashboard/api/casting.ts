// The lab's own alloys and investments, and what a pattern is invested in and cast from, as they cross the wire.

import { type Static, Type } from 'typebox';
import { closed } from './schema-parts.ts';

const LinearChange = (description: string) =>
  Type.Object(
    {
      percent: Type.Number({ minimum: -10, maximum: 10 }),
      uncertainty_percent: Type.Number({ minimum: 0, maximum: 10, description: 'Half-width' }),
    },
    { ...closed, description },
  );
const Name = Type.String({ minLength: 1, maxLength: 80, pattern: '\\S' });

const AlloyBody = Type.Object(
  { kind: Type.Literal('alloy'), name: Name, shrinkage: LinearChange('On casting; shrinkage positive') },
  closed,
);
const InvestmentBody = Type.Object(
  {
    kind: Type.Literal('investment'),
    name: Name,
    setting: LinearChange('On setting; expansion positive'),
    hygroscopic: LinearChange('0 where the technique has none'),
    thermal: LinearChange('From the room to casting'),
  },
  closed,
);
export const CastingMaterialBody = Type.Union([AlloyBody, InvestmentBody]);
export const CastingMaterialView = Type.Union([
  Type.Object({ id: Type.String(), ...AlloyBody.properties }),
  Type.Object({ id: Type.String(), ...InvestmentBody.properties }),
]);
export type CastingMaterialView = Static<typeof CastingMaterialView>;

const Short = (description: string) => Type.Optional(Type.String({ maxLength: 60, description }));
const Amount = (maximum: number, description: string) =>
  Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum, description }));

const ProgrammeStep = Type.Object(
  {
    hold_celsius: Type.Number({ exclusiveMinimum: 0, maximum: 1200 }),
    hold_minutes: Type.Number({ exclusiveMinimum: 0, maximum: 1440 }),
    ramp_celsius_per_hour: Amount(10_000, 'Fastest climb to it'),
  },
  closed,
);

export const CastingBody = Type.Object(
  {
    alloy: Short("Of the table or the lab's own"),
    investment: Short("Of the table or the lab's own"),
    powder_lot: Short('Lot of the powder'),
    liquid_lot: Short('Lot of the liquid'),
    powder_grams: Amount(10_000, 'Powder'),
    liquid_millilitres: Amount(5000, 'Liquid with its water'),
    concentrate_percent: Type.Optional(
      Type.Number({ minimum: 0, maximum: 100, description: 'Of the liquid; the rest is water' }),
    ),
    ring: Short('Size of the ring, or without'),
    set_minutes: Amount(1440, 'From the end of mixing to the next step'),
    furnace: Short('Id of the furnace station'),
    steps_before: Type.Optional(
      Type.Array(ProgrammeStep, {
        maxItems: 8,
        description: "Steps of the maker's programme before its soak",
      }),
    ),
    hold_celsius: Amount(1200, "Soak of the maker's programme"),
    hold_minutes: Amount(1440, 'How long it must be held without a break'),
    ramp_celsius_per_hour: Amount(10_000, "Fastest climb of the maker's programme"),
  },
  closed,
);
export type CastingBody = Static<typeof CastingBody>;

const Nothing = Type.Null();
const StepState = Type.Enum(['no-readings', 'below', 'short', 'held']);
export const BurnoutView = Type.Object(
  {
    state: Type.Enum(['no-programme', 'not-invested', 'no-readings', 'below', 'short', 'held']),
    heldMinutes: Type.Number({ description: 'Longest unbroken time at the hold, from 10 K below it on' }),
    peakCelsius: Type.Union([Type.Number(), Nothing]),
    steepestCelsiusPerHour: Type.Union([Type.Number(), Nothing]),
    isTooSteep: Type.Boolean(),
    steps: Type.Array(
      Type.Object({
        holdCelsius: Type.Number(),
        holdMinutes: Type.Number(),
        state: StepState,
        heldMinutes: Type.Number(),
        steepestCelsiusPerHour: Type.Union([Type.Number(), Nothing]),
        isTooSteep: Type.Boolean(),
      }),
      {
        description: 'The soak last; what is beside them is of the first that was not held, else of the soak',
      },
    ),
  },
  {
    description:
      'Time at temperature of the furnace since the pattern was invested; not of the core of the mould',
  },
);
export type BurnoutView = Static<typeof BurnoutView>;
