// What can be described of a probe: its sensor, its calibration and where it measures.

import { Type } from 'typebox';
import { closed, Day, Name, StationId, Temperature, TopicPart } from './described-parts.ts';
import { SENSOR_KINDS, SENSOR_TOLERANCES } from '../sensor.ts';

const Kelvins = (most: number) =>
  Type.Number({ minimum: 0, maximum: most, description: `degrees from 0 to ${most}` });
const Reading = Type.Number({
  minimum: -100,
  maximum: 500,
  description: 'a temperature from -100 to 500 °C',
});
const Calibration = Type.Object(
  {
    day: Day,
    reference: Type.Optional(Name),
    points: Type.Array(
      Type.Object(
        { reading_celsius: Reading, reference_celsius: Reading, scatter_celsius: Type.Optional(Kelvins(5)) },
        { ...closed, description: 'a point: reading_celsius and reference_celsius' },
      ),
      { minItems: 2, maxItems: 3, description: 'two or three points' },
    ),
    reference_uncertainty_celsius: Kelvins(5),
    resolution_celsius: Type.Optional(Kelvins(5)),
  },
  { ...closed, description: 'a calibration: day, points, reference_uncertainty_celsius (k = 2)' },
);

const Ohms = Type.Number({ minimum: 0, maximum: 10_000_000, description: 'ohms from 0 to 10000000' });
const Coefficient = Type.Number({ description: 'a coefficient as a number' });
const Sensor = Type.Object(
  {
    kind: Type.Enum([...SENSOR_KINDS], { description: 'a kind of sensor' }),
    tolerance: Type.Optional(Type.Enum([...SENSOR_TOLERANCES], { description: 'a tolerance class' })),
    element: Type.Optional(Type.Enum(['pt100', 'pt1000'], { description: 'pt100 or pt1000' })),
    wires: Type.Optional(
      Type.Unsafe<2 | 3 | 4>({ type: 'integer', enum: [2, 3, 4], description: 'two, three or four wires' }),
    ),
    lead_ohms: Type.Optional(
      Type.Number({ minimum: 0, maximum: 50, description: 'ohms from 0 to 50, both wires together' }),
    ),
    thermocouple: Type.Optional(Type.Enum(['K', 'T'], { description: 'K or T' })),
    cold_junction_celsius: Type.Optional(Temperature),
    cold_junction_probe: Type.Optional(TopicPart),
    r25_ohms: Type.Optional(Ohms),
    beta_kelvin: Type.Optional(
      Type.Number({ minimum: 500, maximum: 10_000, description: 'kelvins from 500 to 10000' }),
    ),
    a: Type.Optional(Coefficient),
    b: Type.Optional(Coefficient),
    c: Type.Optional(Coefficient),
  },
  { ...closed, description: 'a sensor: its kind, and what the kind needs' },
);

export const DescribedProbe = Type.Object(
  {
    id: TopicPart,
    gateway: TopicPart,
    station: Type.Optional(StationId),
    correction_celsius: Type.Optional(
      Type.Number({ minimum: -20, maximum: 20, description: 'degrees from -20 to 20, added to readings' }),
    ),
    uncertainty_celsius: Type.Optional(
      Type.Number({ minimum: 0, maximum: 20, description: 'degrees from 0 to 20 (k = 2)' }),
    ),
    sensor: Type.Optional(Sensor),
    powersOnAt85: Type.Optional(Type.Boolean({ description: 'true or false' })),
    battery_low_volts: Type.Optional(
      Type.Number({ minimum: 0.5, maximum: 60, description: 'volts from 0.5 to 60' }),
    ),
    calibrationDue: Type.Optional(Day),
    retiredOn: Type.Optional(Day),
    calibration: Type.Optional(Calibration),
  },
  { ...closed, description: 'a probe: id, gateway, station, and its calibration' },
);
