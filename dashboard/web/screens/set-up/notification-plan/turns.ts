// The coming turns of a rota, to be seen before it is saved. Pure, over days and wall-clock times of the lab; who
// really is on duty now is the server's word.

import type { NotificationPlanBody } from '../../../../api/notification-plan.ts';

type Rota = NonNullable<NotificationPlanBody['rota']>;
type Absence = NotificationPlanBody['absences'][number];

export interface Turn {
  readonly person: string;
  /** `YYYY-MM-DD` of its handover. */
  readonly startsOn: string;
  /** An absence of this person that touches the turn: the next one steps in for it. */
  readonly absence: Absence | null;
}

const DAY_MILLIS = 86_400_000;
const WEEK_DAYS = 7;

const dayNumber = (day: string): number => Date.parse(`${day}T00:00:00Z`) / DAY_MILLIS;
const dayAfter = (day: string, days: number): string =>
  new Date((dayNumber(day) + days) * DAY_MILLIS).toISOString().slice(0, 10);

/** `YYYY-MM-DD HH:MM` on the clock of a zone. */
export const wallClock = (at: number, timeZone: string): string =>
  new Intl.DateTimeFormat('sv-SE', {
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    timeZone,
  }).format(at);

/** From the running turn on; nothing while the rota is not filled in. `now` is a wall clock as above. */
export const turnsFrom = (
  rota: Rota,
  absences: readonly Absence[],
  now: string,
  count: number,
): readonly Turn[] => {
  const [today = '', time = ''] = now.split(' ');
  const since = dayNumber(today) - dayNumber(rota.startsOn) - (time < rota.handoverTime ? 1 : 0);
  if (rota.people.length === 0 || Number.isNaN(since)) return [];
  const running = Math.floor(since / WEEK_DAYS);
  return Array.from({ length: count }, (_, index) => {
    const turn = running + index;
    const place = ((turn % rota.people.length) + rota.people.length) % rota.people.length;
    const person = rota.people[place] ?? '';
    const startsOn = dayAfter(rota.startsOn, turn * WEEK_DAYS);
    const ends = dayAfter(startsOn, WEEK_DAYS);
    const absence =
      absences.find(
        (absence) => absence.person === person && absence.from <= ends && absence.to >= startsOn,
      ) ?? null;
    return { person, startsOn, absence };
  });
};
