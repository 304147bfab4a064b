// Ticks of a time axis on whole hours of the lab's clock, also over a change of it. Pure.

import { Temporal } from 'temporal-polyfill';

const STEPS_HOURS = [1, 2, 3, 4, 6, 12, 24, 48, 168] as const;

/** Instants in `[from, to]`, at most `most` of them; a wall-clock hour that is skipped or comes twice stands once. */
export const clockTicks = (from: number, to: number, timeZone: string, most = 14): readonly number[] => {
  const hours = (to - from) / 3_600_000;
  const step = STEPS_HOURS.find((one) => hours / one <= most) ?? 168;
  const first = Temporal.Instant.fromEpochMilliseconds(from).toZonedDateTimeISO(timeZone).toPlainDate();
  const ticks = new Set<number>();
  for (let day = 0; day <= hours / 24 + 2; day += Math.max(1, step / 24))
    for (let hour = 0; hour < 24; hour += step) {
      const plainTime = `${String(hour).padStart(2, '0')}:00`;
      ticks.add(first.add({ days: day }).toZonedDateTime({ timeZone, plainTime }).epochMilliseconds);
    }
  return [...ticks].filter((at) => at >= from && at <= to).sort((one, other) => one - other);
};
