// The test as far as it has been written down. It runs over days, so it is kept on this device until it is put in.

import { signal } from '@preact/signals';
import { FORM_FIELDS } from '../../../../api/form-fields.ts';
import { fieldAt } from '../../../forms/field-at.ts';
import { type ScreenSettings, settings } from '../../../base/settings.ts';

export interface StickDraft {
  /** As typed, in the unit of the draft. */
  readonly temperature: string;
  readonly readings: string;
}
export interface BentStickDraft {
  readonly wax: string;
  /** Of the reader when it was begun; a change of mind must not change what was written down. */
  readonly unit: ScreenSettings['unit'];
  readonly readingError: string;
  readonly sticks: readonly StickDraft[];
}

const KEY = 'waxwarden.bent-stick';
export const FEWEST_STICKS = 2;
/** As many as the server takes. */
export const MOST_STICKS = fieldAt(FORM_FIELDS['bent-stick'], 'sticks').maxItems ?? Infinity;

const blankDraft = (): BentStickDraft => ({
  wax: '',
  unit: settings.peek().unit,
  readingError: '',
  sticks: Array.from({ length: FEWEST_STICKS }, () => ({ temperature: '', readings: '' })),
});

const isText = (thing: unknown): thing is string => typeof thing === 'string';
const isDraft = (thing: unknown): thing is BentStickDraft => {
  if (typeof thing !== 'object' || thing === null) return false;
  const { wax, unit, readingError, sticks } = thing as Partial<BentStickDraft>;
  return (
    isText(wax) &&
    (unit === 'celsius' || unit === 'fahrenheit') &&
    isText(readingError) &&
    Array.isArray(sticks) &&
    sticks.length >= FEWEST_STICKS &&
    sticks.length <= MOST_STICKS &&
    sticks.every((stick) => isText(stick?.temperature) && isText(stick?.readings))
  );
};

const readDraft = (): BentStickDraft => {
  try {
    const found: unknown = JSON.parse(localStorage.getItem(KEY) ?? 'null');
    return isDraft(found) ? found : blankDraft();
  } catch {
    return blankDraft();
  }
};

export const draft = signal(readDraft());

export const changeDraft = (change: Partial<BentStickDraft>): void => {
  draft.value = { ...draft.value, ...change };
  try {
    localStorage.setItem(KEY, JSON.stringify(draft.value));
  } catch {
    // A device that keeps nothing still fits what is on the screen.
  }
};

export const changeStick = (index: number, change: Partial<StickDraft>): void =>
  changeDraft({
    sticks: draft.value.sticks.map((stick, i) => (i === index ? { ...stick, ...change } : stick)),
  });

export const clearDraft = (): void => changeDraft({ ...blankDraft(), wax: draft.value.wax });
