// One place moved through time under its room, the weather and what people do; returns what was true there.

import { outdoorsCelsius, sunShare } from '../physics/outdoors.ts';
import { drawFrom } from '../draw/draw.ts';
import type { WorldStation, WorldPlan } from './plan.ts';
import { column, type PlaceRecord } from './record.ts';
import { spellCursor } from './spell-cursor.ts';

/** Heaters change by the second; rooms and storage do not. */
const SHORT_STEP = 2000;
const LONG_STEP = 10_000;
const WEATHER_STEP = 60_000;
const SETTLING = 86_400_000;

interface Weather {
  readonly outdoors: Float32Array;
  readonly sun: Float32Array;
}

/** Each minute from a day before the case on. */
export const weatherOf = (world: WorldPlan): Weather => {
  const from = world.starts - SETTLING;
  const count = Math.ceil((world.ends - from) / WEATHER_STEP) + 1;
  const outdoors = new Float32Array(count);
  const sun = new Float32Array(count);
  let index = 0;
  for (let i = 0; i < count; i += 1) {
    const at = from + i * WEATHER_STEP;
    while (at >= (world.days[index]?.end ?? Number.POSITIVE_INFINITY)) index += 1;
    const hour = (at - (world.days[index]?.start ?? from)) / 3_600_000;
    outdoors[i] = outdoorsCelsius(at, hour, world.seed, world.climate);
    sun[i] = sunShare(at, hour, world.seed, world.climate);
  }
  return { outdoors, sun };
};

/**
 * @param room record of the room that it stands in; null for a room.
 * @param recorded names of the spots to keep.
 */
export const runPlace = (
  world: WorldPlan,
  plan: WorldStation,
  weather: Weather,
  room: PlaceRecord | null,
  recorded: readonly string[],
): PlaceRecord => {
  const from = world.starts - SETTLING;
  const isFast =
    plan.kind === 'pot' || plan.kind === 'annealer' || plan.kind === 'bath' || plan.kind === 'lamp';
  const stepMillis = isFast ? SHORT_STEP : LONG_STEP;
  const stride = LONG_STEP / stepMillis;
  const count = Math.floor((world.ends - from) / stepMillis) + 1;
  const roomAir = room && column(room, 'air');
  const startCelsius = roomAir?.[0] ?? 20;
  const model = plan.build(startCelsius, drawFrom(world.seed, `${plan.id}/contact`).source);
  const cursor = spellCursor(plan.spells);
  const readers = recorded.map((spot) => model.spots[spot] ?? (() => Number.NaN));
  const columns = recorded.map(() => new Float32Array(count));
  readers.forEach((read, c) => {
    const values = columns[c];
    if (values) values[0] = read();
  });

  for (let i = 0; i < count - 1; ) {
    const at = from + i * stepMillis;
    const mayLeap = isFast && !model.isLively() && i % stride === 0 && i + stride < count;
    const leap = mayLeap && !cursor.changesBefore(at + LONG_STEP) ? stride : 1;
    const input = cursor.inputAt(at);
    const minute = Math.floor((at - from) / WEATHER_STEP);
    input.outdoorsCelsius = weather.outdoors[minute] ?? 0;
    input.sun = (weather.sun[minute] ?? 0) * input.sunlit;
    if (roomAir) input.roomCelsius = roomAir[Math.floor((at - from) / LONG_STEP)] ?? startCelsius;
    // A heater that is switched on while cold warms within seconds, so only a cold one that stays off may leap.
    const steps = input.on && leap > 1 ? 1 : leap;
    model.advance(input, (steps * stepMillis) / 1000);
    for (let c = 0; c < readers.length; c += 1) {
      const values = columns[c];
      const now = readers[c]?.() ?? Number.NaN;
      if (!values) continue;
      const before = values[i] ?? now;
      for (let k = 1; k <= steps; k += 1) values[i + k] = before + ((now - before) * k) / steps;
    }
    i += steps;
  }
  const spots: Record<string, Float32Array> = {};
  recorded.forEach((spot, c) => {
    spots[spot] = columns[c] ?? new Float32Array(0);
  });
  return { station: plan.id, from, stepMillis, spots };
};
