// What a lamp or a buzzer at the bench reads: one retained JSON message a station for its state, one for its
// worst alarm. Pure; publishSignals sends them. A lamp that was off finds the newest state when it comes back.

import type { Alarm } from '../alerts/watch/life/alarm.ts';
import { isHidden } from '../alerts/watch/life/alarm-state.ts';
import { PRIORITIES } from '../alerts/watch/rule/priority.ts';
import type { StationStatus } from '../alerts/watch/engine/station-status.ts';

export interface Signal {
  readonly topic: string;
  readonly payload: string;
}

const instant = (at: number | null): string | null => (at === null ? null : new Date(at).toISOString());

export const stationSignal = (site: string, status: StationStatus): Signal => ({
  topic: `wax/${site}/station/${status.station}`,
  payload: JSON.stringify({
    condition: status.condition,
    celsius: status.celsius,
    measured_at: instant(status.at),
    minutes_to_ceiling: status.minutesToCeiling,
  }),
});

/** Worst first: unacknowledged before acknowledged, then by priority, then the older one. */
const worseFirst = (a: Alarm, b: Alarm): number =>
  Number(a.acknowledged) - Number(b.acknowledged) ||
  PRIORITIES.indexOf(a.priority) - PRIORITIES.indexOf(b.priority) ||
  a.raisedAt - b.raisedAt;

/** `sound` is true only while somebody has to come: active or latched, and not acknowledged. */
export const alarmSignal = (site: string, station: string, open: readonly Alarm[]): Signal => {
  const visible = open.filter((alarm) => alarm.subject === station && !isHidden(alarm)).sort(worseFirst);
  const worst = visible[0];
  return {
    topic: `wax/${site}/alarm/${station}`,
    payload: JSON.stringify(
      worst === undefined
        ? { open: 0, sound: false, priority: null, rule: null, id: null, raised_at: null }
        : {
            open: visible.length,
            sound: !worst.acknowledged && (worst.active || worst.latched),
            priority: worst.priority,
            rule: worst.rule,
            id: worst.id,
            raised_at: instant(worst.raisedAt),
          },
    ),
  };
};
