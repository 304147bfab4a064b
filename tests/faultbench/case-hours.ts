// The working hours of a case as a lab enters them: one calendar for the whole site, pauses as gaps between two spans.

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { CaseHours, CaseStation } from '../../simulators/cases/case.ts';
import { WEEKDAYS, type Weekday, type WorkingHours } from '../../lab/lab.ts';
import { readLabFile } from '../../lab/lab-file/read-lab-file.ts';

type Span = readonly [opens: string, closes: string];

const STARTER = join(import.meta.dirname, '../../lab/files/starter.yaml');

/** What the product proposes on first start; used where no station of the case has hours. */
const proposedHours = (): WorkingHours => {
  const starter = readLabFile(readFileSync(STARTER, 'utf8'));
  if (!starter.ok) throw new Error(`lab/files/starter.yaml: ${starter.problems[0]?.code}`);
  return starter.lab.site.workingHours;
};

const weekdayOf = (day: string): Weekday | undefined =>
  WEEKDAYS.find((weekday) => day.toLowerCase().startsWith(weekday));

const spansOf = ({ from, to, pauses = [] }: CaseHours): readonly Span[] => {
  const ends = [...pauses].sort(([first], [second]) => (first < second ? -1 : 1));
  const opens = [from, ...ends.map(([, end]) => end)];
  const closes = [...ends.map(([begin]) => begin), to];
  return opens
    .map((open, index): Span => [open, closes[index] ?? to])
    .filter(([open, close]) => open < close);
};

export const worksByHours = (station: CaseStation): boolean => typeof station.hours !== 'string';

/** Of the station that works longest on most days: the product has one calendar for all. */
export function siteHours(stations: readonly CaseStation[]): WorkingHours {
  const said = stations.flatMap(({ hours }) => (typeof hours === 'string' ? [] : [hours]));
  const longest = said.sort(
    (a, b) =>
      b.days.length - a.days.length || (a.from < b.from ? -1 : a.from > b.from ? 1 : a.to > b.to ? -1 : 1),
  )[0];
  if (longest === undefined) return proposedHours();
  const open = new Set(longest.days.map(weekdayOf));
  const spans = spansOf(longest);
  const on = (weekday: Weekday) => (open.has(weekday) ? spans : []);
  return {
    mon: on('mon'),
    tue: on('tue'),
    wed: on('wed'),
    thu: on('thu'),
    fri: on('fri'),
    sat: on('sat'),
    sun: on('sun'),
  };
}
