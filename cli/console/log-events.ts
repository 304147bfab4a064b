// What the log holds of a running lab: the broker, the journal, each change of an alarm, what became of each notice.

import type { AlarmChange } from '../../alerts/watch/life/alarm.ts';
import type { OutboxRow } from '../../alerts/notices/outbox/outbox-row.ts';
import type { Intake, IntakeStatus } from '../../collector/intake/intake.ts';
import type { LabChange } from '../../pipeline/published.ts';
import type { Log } from './log.ts';

const alarmEvent = (log: Log, { kind, alarm }: AlarmChange): void =>
  log.write(kind === 'updated' ? 'debug' : 'info', `alarm-${kind}`, {
    alarm: alarm.id,
    rule: alarm.rule,
    priority: alarm.priority,
  });

export const noticeEvent = (log: Log, row: OutboxRow, isDelivered: boolean): void =>
  log.write(isDelivered ? 'info' : 'warn', isDelivered ? 'notice-delivered' : 'notice-not-delivered', {
    number: row.number,
    channel: row.channel,
    kind: row.kind,
    alarm: row.body.alarm?.id,
    attempt: row.attempts + 1,
  });

function statusEvents(log: Log): (status: IntakeStatus) => void {
  let before = '';
  return ({ broker, journal }) => {
    const now = `${broker.state} ${journal.state}`;
    if (now === before) return;
    before = now;
    log.write(broker.state === 'unreachable' ? 'warn' : 'info', 'broker', {
      state: broker.state,
      problem: broker.state === 'unreachable' ? broker.problem.code : undefined,
    });
    if (journal.state === 'failing') log.write('warn', 'journal', { problem: journal.problem.code });
  };
}

/** Returns a function that ends it. */
export function logLab(
  log: Log,
  intake: Pick<Intake, 'onStatus' | 'status'>,
  subscribe: (listener: (change: LabChange) => void) => () => void,
): () => void {
  const onStatus = statusEvents(log);
  onStatus(intake.status());
  const endStatus = intake.onStatus(onStatus);
  const endChanges = subscribe((change) => {
    if (change.kind === 'alarm') alarmEvent(log, change.change);
  });
  return () => {
    endStatus();
    endChanges();
  };
}
