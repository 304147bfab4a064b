// Which caution belongs to a hot surface or liquid: a key for the message catalogue and the observed time to injury
// with its source. It informs; it is never medical or safety advice, and no temperature here is "safe".
// Sources: ISO 13732-1:2006 (solid surfaces only) and Moritz & Henriques, Am J Pathol 23:695, 1947 (liquids), both
// from memory; the damage integral and its constants as published in many places after Henriques & Moritz 1947.

import { isTemperature, rowOf } from './reading-guard.ts';
import { failure, type Result, success } from './result.ts';
import type { Celsius } from './units.ts';
import { commonPractice, fromMemory, type WaxValue } from './classes/wax-value.ts';

export type BurnContact = 'liquid' | 'surface';

/** Message keys, mildest first; the texts are in the message catalogues. */
export const BURN_CAUTIONS = [
  'burn-not-expected',
  'burn-after-long-contact',
  'burn-within-minutes',
  'burn-within-seconds',
  'burn-at-once',
] as const;
export type BurnCautionKey = (typeof BURN_CAUTIONS)[number];

export interface BurnCaution {
  readonly key: BurnCautionKey;
  /** Shortest time to injury on record at this temperature; null below the lowest temperature on record. */
  readonly seconds: WaxValue | null;
  /** Molten wax clings and goes on burning, so its time of contact is not in anyone's hands. */
  readonly clings: boolean;
}

/** Temperature °C and shortest time to injury in seconds, hottest first. */
export const BURNS_ON_RECORD: Readonly<
  Record<BurnContact, readonly (readonly [celsius: number, seconds: number])[]>
> = {
  liquid: [
    [70, 1],
    [60, 3],
    [55, 30],
    [53, 60],
    [51, 240],
    [49, 570],
    [48, 900],
    [47, 2700],
    [45, 10_800],
    [44, 21_600],
  ],
  surface: [
    [65, 1],
    [55, 10],
    [51, 60],
    [48, 600],
    [43, 28_800],
  ],
};

/** Codes of sources. */
export const BURN_SOURCE: Readonly<Record<BurnContact, string>> = {
  liquid: 'moritz-1947',
  surface: 'iso-13732-bare-metal',
};

const keyOf = (seconds: number): BurnCautionKey =>
  seconds <= 1
    ? 'burn-at-once'
    : seconds <= 30
      ? 'burn-within-seconds'
      : seconds <= 600
        ? 'burn-within-minutes'
        : 'burn-after-long-contact';

/** Between two recorded temperatures the hotter one's caution is given, so that none is too mild. */
export function burnCaution(celsius: Celsius, contact: BurnContact, isWax = false): Result<BurnCaution> {
  if (!isTemperature(celsius)) return failure('not-a-temperature', {}, celsius);
  const record = rowOf(BURNS_ON_RECORD, contact, 'contact');
  const lowest = record.at(-1)?.[0] ?? 0;
  if (celsius < lowest) return success({ key: 'burn-not-expected', seconds: null, clings: isWax });
  const hotter = record.filter(([least]) => least >= celsius).at(-1) ?? record[0];
  const seconds = hotter?.[1] ?? 1;
  return success({ key: keyOf(seconds), seconds: fromMemory(seconds, BURN_SOURCE[contact]), clings: isWax });
}

/** Above this a pot or bath needs a notice against touching. */
export const TOUCH_NOTICE_CELSIUS = commonPractice(51, 'iso-13732-one-minute');
