// The life of an alarm, one pure step: (alarm, event) -> alarm, changes, and a refusal where a person requested
// what the standard does not allow. Transitions: IEC 62682 / ISA-18.2; a record that returns keeps its id.
// It judges no conditions and reads no clock: time enters inside the event.

import type { AlarmAct } from '../../../lab/act.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { Evidence } from '../rule/finding.ts';
import type { Alarm, AlarmChange, AlarmChangeKind } from './alarm.ts';
import { isHidden } from './alarm-state.ts';
import { ackRefusal, type Refusal, resetRefusal, shelveRefusal } from './refusal.ts';

export type AlarmEvent = { readonly at: EpochMillis } & (
  | { readonly type: 'begins'; readonly tense: Alarm['tense']; readonly evidence: Evidence }
  | { readonly type: 'updates'; readonly evidence: Evidence }
  /** `evidence`: of the worst, where it got worse after the last update. */
  | { readonly type: 'ends'; readonly evidence?: Evidence }
  /** Still true long after it was acknowledged, or a worse level reached: it is raised anew. */
  | { readonly type: 're-alarm'; readonly reason: string }
  | { readonly type: 'suppress'; readonly reason: string }
  | { readonly type: 'unsuppress' }
  /** Time passes: what was shelved comes back by itself. */
  | { readonly type: 'time' }
  | { readonly type: 'act'; readonly act: AlarmAct }
);

export interface AlarmStep {
  readonly alarm: Alarm;
  readonly changes: readonly AlarmChange[];
  readonly refusal?: Refusal;
}

/** An alarm in state A that has not been raised yet; its id is given when it is first raised. */
export const normalAlarm = (
  identity: Pick<Alarm, 'rule' | 'subject' | 'subjectKind' | 'priority' | 'latches'>,
  at: EpochMillis,
): Alarm => ({
  id: `${identity.subject}.${identity.rule}.${at}`,
  ...identity,
  active: false,
  acknowledged: true,
  latched: false,
  shelvedUntil: null,
  suppressedBy: null,
  outOfService: false,
  count: 0,
  tense: 'now',
  raisedAt: at,
  clearedAt: null,
  acknowledgedAt: null,
  acknowledgedBy: null,
  evidence: {},
});

export function alarmStep(alarm: Alarm, event: AlarmEvent): AlarmStep {
  const { at } = event;
  switch (event.type) {
    case 'begins':
      return begins(alarm, at, event.tense, event.evidence);
    case 'updates':
      return changeAlarm({ ...alarm, evidence: event.evidence }, 'updated', at);
    case 'ends':
      if (!alarm.active) return keepAlarm(alarm);
      return changeAlarm(
        {
          ...alarm,
          active: false,
          latched: alarm.latches,
          clearedAt: at,
          evidence: event.evidence ?? alarm.evidence,
        },
        'cleared',
        at,
      );
    case 're-alarm':
      if (isHidden(alarm) || !alarm.active || !alarm.acknowledged) return keepAlarm(alarm);
      return changeAlarm(withoutAcknowledgement(alarm), 'raised-again', at, null, event.reason);
    case 'suppress':
      if (alarm.suppressedBy === event.reason) return keepAlarm(alarm);
      return changeAlarm({ ...alarm, suppressedBy: event.reason }, 'suppressed', at, null, event.reason);
    case 'unsuppress':
      if (alarm.suppressedBy === null) return keepAlarm(alarm);
      return changeAlarm(bringBack({ ...alarm, suppressedBy: null }), 'unsuppressed', at);
    case 'time':
      if (alarm.shelvedUntil === null || at < alarm.shelvedUntil) return keepAlarm(alarm);
      return changeAlarm(
        bringBack({ ...alarm, shelvedUntil: null }),
        'unshelved',
        at,
        null,
        'its time is up',
      );
    case 'act':
      return performAct(alarm, at, event.act);
  }
}

function begins(alarm: Alarm, at: EpochMillis, tense: Alarm['tense'], evidence: Evidence): AlarmStep {
  if (alarm.active) {
    // A backlog reported it as past; live readings now show that it is still so.
    if (alarm.tense === 'learned' && tense === 'now')
      return changeAlarm(withoutAcknowledgement({ ...alarm, tense, evidence }), 'raised-again', at);
    return changeAlarm({ ...alarm, evidence }, 'updated', at);
  }
  const raised = {
    ...withoutAcknowledgement(alarm),
    active: true,
    latched: false,
    clearedAt: null,
    tense,
    evidence,
  };
  if (alarm.count > 0) return changeAlarm({ ...raised, count: alarm.count + 1 }, 'raised-again', at);
  const id = `${alarm.subject}.${alarm.rule}.${at}`;
  return changeAlarm({ ...raised, id, count: 1, raisedAt: at }, 'raised', at);
}

function performAct(alarm: Alarm, at: EpochMillis, act: AlarmAct): AlarmStep {
  const by = act.by;
  const reason = act.reason?.trim() ?? '';
  switch (act.type) {
    case 'acknowledge': {
      const refusal = ackRefusal(alarm, act.seenCount);
      if (refusal) return refuseAct(alarm, refusal);
      const seen = { ...alarm, acknowledged: true, acknowledgedAt: at, acknowledgedBy: by };
      return changeAlarm(seen, 'acknowledged', at, by, reason || null);
    }
    case 'reset': {
      const refusal = resetRefusal(alarm);
      if (refusal) return refuseAct(alarm, refusal);
      return changeAlarm({ ...alarm, latched: false }, 'reset', at, by, reason || null);
    }
    case 'shelve': {
      const refusal = shelveRefusal(alarm, at, act.until, reason);
      if (refusal) return refuseAct(alarm, refusal);
      return changeAlarm({ ...alarm, shelvedUntil: act.until }, 'shelved', at, by, reason);
    }
    case 'unshelve':
      if (alarm.shelvedUntil === null) return refuseAct(alarm, { code: 'not-shelved' });
      return changeAlarm(bringBack({ ...alarm, shelvedUntil: null }), 'unshelved', at, by, reason || null);
    case 'take-out-of-service':
      if (reason === '') return refuseAct(alarm, { code: 'reason-missing' });
      if (alarm.outOfService) return refuseAct(alarm, { code: 'already-out-of-service' });
      return changeAlarm({ ...alarm, outOfService: true }, 'out-of-service', at, by, reason);
    case 'return-to-service':
      if (!alarm.outOfService) return refuseAct(alarm, { code: 'not-out-of-service' });
      return changeAlarm(
        bringBack({ ...alarm, outOfService: false }),
        'returned-to-service',
        at,
        by,
        reason || null,
      );
    case 'note': {
      const text = act.text.trim();
      if (text === '') return refuseAct(alarm, { code: 'note-empty' });
      return changeAlarm(alarm, 'noted', at, by, text);
    }
  }
}

const withoutAcknowledgement = (alarm: Alarm): Alarm => ({
  ...alarm,
  acknowledged: false,
  acknowledgedAt: null,
  acknowledgedBy: null,
});

/** Leaving shelved, suppressed or out of service: raised anew when the condition holds, else normal. */
function bringBack(alarm: Alarm): Alarm {
  if (isHidden(alarm)) return alarm;
  return alarm.active ? withoutAcknowledgement(alarm) : { ...alarm, acknowledged: true, latched: false };
}

const keepAlarm = (alarm: Alarm): AlarmStep => ({ alarm, changes: [] });
const refuseAct = (alarm: Alarm, refusal: Refusal): AlarmStep => ({ alarm, changes: [], refusal });
const changeAlarm = (
  alarm: Alarm,
  kind: AlarmChangeKind,
  at: EpochMillis,
  by: string | null = null,
  reason: string | null = null,
): AlarmStep => ({ alarm, changes: [{ kind, at, by, reason, alarm }] });
