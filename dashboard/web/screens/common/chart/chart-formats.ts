// How charts write their numbers and instants for the reader of this screen.

import type { ChartFormats } from '../../../../charts/chart.ts';
import { formatDay, formatInstant, formatNumber, formatTime, type Reader } from '../../../base/format.ts';

/** `now` in epoch milliseconds: an instant of today is read out without its day. */
export const chartFormats = (reader: Reader, now: number): ChartFormats => ({
  unit: reader.unit,
  timeZone: reader.timeZone,
  number: (value, digits) => formatNumber(value, digits, reader),
  clock: (at) => formatTime(at, reader),
  day: (at) => formatDay(at, reader),
  moment: (at) => formatInstant(at, now, reader),
});
