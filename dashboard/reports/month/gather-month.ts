// What the sheet of a month is computed from: its nights place by place, the patterns that ended in it, its alarms.

import { Temporal } from 'temporal-polyfill';
import { alarmQuality } from '../../../alerts/watch/quality/alarm-quality.ts';
import { heats, stores } from '../../../lab/station-kinds.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY } from '../../../wax/units.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import { subjectNames } from '../../queries/subject-name.ts';
import { settingsInForce } from '../../queries/settings-in-force.ts';
import { stationNight } from '../night/gather-night.ts';
import { nightsOfMonth } from '../night/night-span.ts';
import type { MeasuredHeater } from './heat-outside-hours.ts';
import { measureHeater } from './measure-heater.ts';
import type { MonthInputs } from './month-sheet.ts';

const MOST_PATTERNS = 5000;
const MOST_CHANGES = 100_000;
/** Reads some time before the month as well, so that the state at its start is known. */
const BEFORE_MILLIS = 2 * MILLIS_PER_DAY;

/** Null for a month that has not begun. */
export const gatherMonth = async (running: RunningLab, month: string): Promise<MonthInputs | null> => {
  const { site } = running.lab();
  const now = running.now();
  const first = Temporal.PlainYearMonth.from(month).toPlainDate({ day: 1 });
  const start = (date: Temporal.PlainDate): EpochMillis =>
    epochMillis(date.toZonedDateTime({ timeZone: site.timeZone }).epochMilliseconds);
  const [from, to] = [start(first), start(first.add({ months: 1 }))];
  if (from >= now) return null;
  const counted = epochMillis(Math.min(to, now));
  const { history } = running.repository;
  const spans = nightsOfMonth(history.siteAt, site, month, now);
  const places: MonthInputs['places'][number][] = [];
  const settings = settingsInForce(running, from, counted);
  // Also those that were removed in the month.
  const stations = history.stationsIn(from, counted);
  for (const station of stations.filter(({ kind }) => stores(kind))) {
    const nights = [];
    // One after the other: a month of nights at once would hold up the readers of the wall.
    for (const span of spans) {
      const night = { from: span.from, to: epochMillis(Math.min(span.opens, now)) };
      const held = settingsInForce(running, night.from, night.to);
      if (held.periodsOf(station.id).length > 0)
        nights.push({ span, measured: await stationNight(running, station, night, held) });
    }
    if (nights.length > 0) places.push({ station: station.id, name: station.name, nights });
  }
  const whole = { from: epochMillis(Math.min(from, ...spans.map((span) => span.from))), to: counted };
  const heaters: MeasuredHeater[] = [];
  for (const station of stations.filter(({ kind }) => heats(kind)))
    heaters.push(await measureHeater(running, station, whole, settings));
  return {
    month,
    lab: settings.lab.site.name,
    timeZone: site.timeZone,
    now,
    asOf: counted,
    to,
    places,
    heaters,
    nights: spans,
    careAt: (at) => history.siteAt(at).patternCare ?? settings.lab.site.patternCare,
    ended: running.repository.allPatterns(MOST_PATTERNS).filter(({ fate }) => {
      const at = fate === null ? Number.NaN : Date.parse(fate.at);
      return at >= from && at < to;
    }),
    quality: alarmQuality({
      from,
      to: counted,
      site: settings.lab.site,
      changes: running.alarmChangesBetween(epochMillis(from - BEFORE_MILLIS), counted, MOST_CHANGES),
      open: running.openAlarms(),
    }),
    placeName: subjectNames(running, stations),
  };
};
