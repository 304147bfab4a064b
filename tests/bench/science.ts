// How many readings a second pass through dose, rainflow and relaxation together, on one core, and what they
// allocate. The input is a pot under a thermostat with noise of the size of a digital probe's step.

import { GCProfiler } from 'node:v8';
import { doseAdvance, doseKinetics, doseStart, doseStep, runningDose } from '../../wax/heat/heat-dose.ts';
import { rainflowAdvance, rainflowStart, rainflowStep, runningRainflow } from '../../wax/numbers/rainflow.ts';
import {
  relaxationAdvance,
  relaxationStart,
  relaxationStep,
  runningRelaxation,
} from '../../wax/relaxation/reduced-time.ts';
import { relaxationParameters } from '../../wax/relaxation/relaxation-parameters.ts';
import { arrheniusRate, thermalFactor } from '../../wax/heat/thermal-rate.ts';
import { type Celsius, type EpochMillis, epochMillis, seconds } from '../../wax/units.ts';
import { waxClass } from '../../wax/wax-class.ts';

const READINGS = 5_000_000;
const PURE_READINGS = 1_000_000;
const STEP_MILLIS = 1000;
const START = epochMillis(1_760_000_000_000);

const wax = waxClass('inlay-dip');
const dose = { kinetics: doseKinetics(wax), longestGap: seconds(60) };
const relaxation = relaxationParameters(wax, seconds(60));

/** A thermostat's saw between 88 and 92 °C over five minutes, in steps of 0.0625 °C, with a step of noise. */
const potTemperatures = (count: number): Float64Array => {
  let seed = 1;
  return Float64Array.from({ length: count }, (_, index) => {
    seed = (seed * 48_271) % 2_147_483_647;
    const saw = Math.abs(((index / 150) % 2) - 1);
    return Math.round((88 + 4 * saw) * 16 + (seed % 3) - 1) / 16;
  });
};

const inPlace = (values: Float64Array, from: number, to: number, states: ReturnType<typeof start>): void => {
  const sink = (_from: number, _to: number, count: number) => {
    states.cycles += count;
  };
  const reading = { at: START, celsius: 0 as Celsius };
  for (let index = from; index < to; index += 1) {
    reading.at = (START + index * STEP_MILLIS) as EpochMillis;
    reading.celsius = values[index] as Celsius;
    doseAdvance(states.dose, reading, dose);
    rainflowAdvance(states.swings, reading.celsius, sink);
    relaxationAdvance(states.relaxation, reading, relaxation);
  }
};

const start = () => ({
  dose: runningDose(),
  swings: runningRainflow(),
  relaxation: runningRelaxation(relaxationStart(START)),
  cycles: 0,
});

const purely = (values: Float64Array, count: number): number => {
  let [dosed, swings, relaxed] = [doseStart(), rainflowStart(), relaxationStart(START)];
  for (let index = 0; index < count; index += 1) {
    const at = (START + index * STEP_MILLIS) as EpochMillis;
    const value = values[index] as Celsius;
    dosed = doseStep(dosed, at, value, dose);
    swings = rainflowStep(swings, value).state;
    relaxed = relaxationStep(relaxed, at, value, relaxation);
  }
  return dosed.hours + swings.values + relaxed.reducedSeconds;
};

const rateOf = (count: number, work: () => unknown): number => {
  const begin = process.hrtime.bigint();
  work();
  return count / (Number(process.hrtime.bigint() - begin) / 1e9);
};

const bestRate = (rounds: number, count: number, work: () => unknown): number =>
  Math.max(...Array.from({ length: rounds }, () => rateOf(count, work)));

/** All that was allocated during the work: what each collection found, less what the one before had left. */
const allocatedBytes = (work: () => void): number => {
  const profiler = new GCProfiler();
  profiler.start();
  let left = process.memoryUsage().heapUsed;
  work();
  const end = process.memoryUsage().heapUsed;
  let sum = 0;
  for (const { beforeGC, afterGC } of profiler.stop().statistics) {
    sum += beforeGC.heapStatistics.usedHeapSize - left;
    left = afterGC.heapStatistics.usedHeapSize;
  }
  return sum + end - left;
};

const print = (line: Readonly<Record<string, string | number | null>>): void => {
  console.log(JSON.stringify(line));
};

export const run = async (): Promise<void> => {
  const values = potTemperatures(READINGS);
  // What no implementation of these formulas can do without: two exponentials a reading.
  const rate = arrheniusRate(dose.kinetics.activationEnergy, dose.kinetics.reference);
  let sum = 0;
  const floor = bestRate(3, READINGS, () => {
    for (const value of values) sum += thermalFactor(rate, value) + thermalFactor(relaxation.rate, value);
  });
  const streaming = bestRate(5, READINGS, () => inPlace(values, 0, READINGS, start()));
  const pure = bestRate(3, PURE_READINGS, () => purely(values, PURE_READINGS));
  const note = 'dose, rainflow and relaxation together, one core, best of the rounds';
  print({
    name: 'science-streaming',
    value: Math.round(streaming),
    unit: 'readings/s',
    peer: 'two bare exponentials a reading, which is less work',
    peer_value: Math.round(floor),
    ratio: streaming / floor,
    n: READINGS,
    note: sum > 0 ? note : 'the peer summed nothing',
  });
  print({
    name: 'science-pure',
    value: Math.round(pure),
    unit: 'readings/s',
    peer: 'the same in place',
    peer_value: Math.round(streaming),
    ratio: pure / streaming,
    n: PURE_READINGS,
    note,
  });
  print({
    name: 'science-allocation',
    value: Number((allocatedBytes(() => inPlace(values, 0, READINGS, start())) / READINGS).toFixed(3)),
    unit: 'bytes/reading',
    peer: null,
    peer_value: null,
    ratio: null,
    n: READINGS,
    note: 'in place, warm; found by the collections and what was left at the end',
  });
};
