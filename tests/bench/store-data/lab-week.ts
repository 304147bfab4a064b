// What a lab's probes measure, for the benches of the store: pots under thermostats and places where patterns wait, in
// steps of 1/16 °C with the noise of a digital probe. Ten probes hang at a gateway, which publishes every five seconds
// and up to 200 ms late; or each is late by itself.

import { randomNormal, randomUniform } from 'd3-random';
import { MILLIS_PER_DAY } from '../../../wax/units.ts';

export const PROBES = 30;
export const STEP_MILLIS = 5000;
const PROBES_A_GATEWAY = 10;
const LATE_MILLIS = 200;
const STEPS_PER_DEGREE = 16;

export type Jitter = 'gateway' | 'probe';

/** The same numbers in every run. */
function seedSource(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

export interface ProbeWeek {
  readonly probe: string;
  readonly at: (index: number) => number;
  /** Must be called with one index after the other. */
  readonly celsius: (index: number) => number;
}

/** Every second probe hangs in a pot, the others in storage. */
export function labWeek(start: number, jitter: Jitter): readonly ProbeWeek[] {
  return Array.from({ length: PROBES }, (_, number) => {
    const clock = jitter === 'gateway' ? Math.floor(number / PROBES_A_GATEWAY) : number + 100;
    return {
      probe: `probe-${number}`,
      at: (index: number) => start + index * STEP_MILLIS + lateness(clock, index),
      celsius: number % 2 === 0 ? pot(number) : place(number),
    };
  });
}

/** Like a hash: two probes of one gateway get the same without keeping it. */
function lateness(clock: number, index: number): number {
  const mixed = Math.imul(Math.imul(index + 1, 2_654_435_761) ^ (clock * 40_503), 2_246_822_519);
  return ((mixed ^ (mixed >>> 13)) >>> 0) % LATE_MILLIS;
}

const inSteps = (value: number): number => Math.round(value * STEPS_PER_DEGREE) / STEPS_PER_DEGREE;

/** On from seven to six; a thermostat with a band of 1.2 K, some minutes a cycle. */
function pot(number: number): (index: number) => number {
  const random = seedSource(number + 1);
  const noise = randomNormal.source(random)(0, 0.05);
  const [set, heating, cooling] = [60 + number, 0.02 + 0.001 * number, 1 / 2400];
  let [now, isHeating] = [22, true];
  return (index) => {
    const hour = ((index * STEP_MILLIS) % MILLIS_PER_DAY) / 3_600_000;
    const isOn = hour >= 7 && hour < 18;
    if (now > set + 0.6) isHeating = false;
    if (now < set - 0.6) isHeating = true;
    now += (STEP_MILLIS / 1000) * ((isOn && isHeating ? heating + 0.02 : 0) - (now - 22) * cooling);
    return inSteps(now + noise());
  };
}

/** The day's swing of a room, doors and the sun. */
function place(number: number): (index: number) => number {
  const random = seedSource(number + 1);
  const noise = randomNormal.source(random)(0, 0.03);
  const wander = randomUniform.source(random)(-0.004, 0.004);
  let weather = 0;
  return (index) => {
    weather = weather * 0.9999 + wander();
    const day = Math.sin((index * STEP_MILLIS * 2 * Math.PI) / MILLIS_PER_DAY + number);
    return inSteps(21 + 1.2 * day + weather + noise());
  };
}
