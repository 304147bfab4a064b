// Who is on duty over the weeks ahead, turn by turn: cut at every handover and at every edge of an absence. Pure.

import { Temporal } from 'temporal-polyfill';
import type { Lab } from '../../../lab/lab.ts';
import type { NotificationPlan } from '../../../lab/notification-plan.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import { onDuty } from './on-duty.ts';

export interface DutyTurn {
  /** Id. */
  readonly person: string;
  readonly from: EpochMillis;
  readonly to: EpochMillis;
}

/**
 * Whole turns that touch [from, to), oldest first. None without a rota: then everybody who may handle alarms is on
 * duty. A stretch in which everybody of the rota is absent is nobody's turn.
 */
export function dutyTurns(
  plan: NotificationPlan,
  lab: Lab,
  from: EpochMillis,
  to: EpochMillis,
): readonly DutyTurn[] {
  const { rota } = plan;
  if (rota === null) return [];
  const { timeZone } = lab.site;
  const instant = (day: Temporal.PlainDate, plainTime: string): EpochMillis =>
    day.toZonedDateTime({ timeZone, plainTime }).epochMilliseconds as EpochMillis;
  const first = Temporal.PlainDate.from(rota.startsOn);
  const begin = Temporal.Instant.fromEpochMilliseconds(from).toZonedDateTimeISO(timeZone).toPlainDate();
  const weeks = Math.floor(first.until(begin, { largestUnit: 'days' }).days / 7) - 1;
  const handovers: EpochMillis[] = [];
  for (
    let day = first.add({ weeks });
    handovers.at(-1) === undefined || (handovers.at(-1) ?? 0) < to;
    day = day.add({ weeks: 1 })
  )
    handovers.push(instant(day, rota.handoverTime));
  const [earliest = from, latest = to] = [handovers[0], handovers.at(-1)];
  const edges = plan.absences
    .flatMap((absence) => [
      instant(Temporal.PlainDate.from(absence.from), '00:00'),
      instant(Temporal.PlainDate.from(absence.to).add({ days: 1 }), '00:00'),
    ])
    .filter((edge) => edge > earliest && edge < latest);
  const cuts = [...new Set([...handovers, ...edges])].sort((left, right) => left - right);
  const turns: DutyTurn[] = [];
  for (const [index, start] of cuts.slice(0, -1).entries()) {
    const end = cuts[index + 1] ?? latest;
    const [person] = onDuty(plan, lab, start);
    if (person === undefined) continue;
    const last = turns.at(-1);
    const goesOn = last?.person === person && last.to === start && !handovers.includes(start);
    if (goesOn) turns.splice(-1, 1, { ...last, to: end });
    else turns.push({ person, from: start, to: end });
  }
  return turns.filter((turn) => turn.to > from && turn.from < to);
}
