// The seven days that the form of the record begins with: they end yesterday, the last whole day. Pure.

import { localDay } from '../../base/local-days.ts';

const DAYS = 7;
const DAY_MILLIS = 86_400_000;

const daysBefore = (day: string, count: number): string =>
  new Date(Date.parse(`${day}T00:00:00Z`) - count * DAY_MILLIS).toISOString().slice(0, 10);

/** @param timeZone IANA name; the days are those of the lab's calendar */
export const lastDays = (now: number, timeZone: string): { readonly from: string; readonly to: string } => {
  const today = localDay(now, timeZone);
  return { from: daysBefore(today, DAYS), to: daysBefore(today, 1) };
};
