// What a lab requires of waiting patterns, and at which temperature they are fitted and invested. Each default with its
// source and standing; a lab sets its own in the lab file.

import { commonPractice, fromMemory, labsOwn, type WaxValue } from '../wax/classes/wax-value.ts';

export interface PatternCare {
  /** Minutes that a pattern may stand off its die before it is invested; 0: no clock. */
  readonly standing_minutes?: number;
  /** The room in which patterns are seated and invested. */
  readonly room_celsius?: number;
  /** What a remake costs, in the lab's own currency, without the time. */
  readonly remake_price?: number;
  /** Of work. */
  readonly remake_minutes?: number;
}

export interface PatternCareValues {
  readonly standingMinutes: WaxValue;
  readonly roomCelsius: WaxValue;
}

const DEFAULTS: PatternCareValues = {
  standingMinutes: fromMemory(30, 'standing-before-investing'),
  roomCelsius: commonPractice(22, 'laboratory-room'),
};

/** The lab's own values over the defaults. */
export const patternCare = ({ standing_minutes, room_celsius }: PatternCare = {}): PatternCareValues => ({
  standingMinutes:
    standing_minutes === undefined
      ? DEFAULTS.standingMinutes
      : labsOwn(standing_minutes, DEFAULTS.standingMinutes),
  roomCelsius:
    room_celsius === undefined ? DEFAULTS.roomCelsius : labsOwn(room_celsius, DEFAULTS.roomCelsius),
});
