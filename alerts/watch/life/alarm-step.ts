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
      return changed({ ...alarm, evidence: event.evidence }, 'updated', at);
    case 'ends':
      if (!alarm.active) return unchanged(alarm);
      return changed(
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
      if (isHidden(alarm) || !alarm.active || !alarm.acknowledged) return unchanged(alarm);
      return changed(unacknowledged(alarm), 'raised-again', at, null, event.reason);
    case 'suppress':
      if (alarm.suppressedBy === event.reason) return unchanged(alarm);
      return changed({ ...alarm, suppressedBy: event.reason }, 'suppressed', at, null, event.reason);
    case 'unsuppress':
      if (alarm.suppressedBy === null) return unchanged(alarm);
      return changed(shown({ ...alarm, suppressedBy: null }), 'unsuppressed', at);
    case 'time':
      if (alarm.shelvedUntil === null || at < alarm.shelvedUntil) return unchanged(alarm);
      return changed(shown({ ...alarm, shelvedUntil: null }), 'unshelved', at, null, 'its time is up');
    case 'act':
      return acted(alarm, at, event.act);
  }
}

function begins(alarm: Alarm, at: EpochMillis, tense: Alarm['tense'], evidence: Evidence): AlarmStep {
  if (alarm.active) {
    // A backlog reported it as past; live readings now show that it is still so.
    if (alarm.tense === 'learned' && tense === 'now')
      return changed(unacknowledged({ ...alarm, tense, evidence }), 'raised-again', at);
    return changed({ ...alarm, evidence }, 'updated', at);
  }
  const raised = { ...unacknowledged(alarm), active: true, latched: false, clearedAt: null, tense, evidence };
  if (alarm.count > 0) return changed({ ...raised, count: alarm.count + 1 }, 'raised-again', at);
  const id = `${alarm.subject}.${alarm.rule}.${at}`;
  return changed({ ...raised, id, count: 1, raisedAt: at }, 'raised', at);
}

function acted(alarm: Alarm, at: EpochMillis, act: AlarmAct): AlarmStep {
  const by = act.by;
  const reason = act.reason?.trim() ?? '';
  switch (act.type) {
    case 'acknowledge': {
      const refusal = ackRefusal(alarm, act.seenCount);
      if (refusal) return refused(alarm, refusal);
      const seen = { ...alarm, acknowledged: true, acknowledgedAt: at, acknowledgedBy: by };
      return changed(seen, 'acknowledged', at, by, reason || null);
    }
    case 'reset': {
      const refusal = resetRefusal(alarm);
      if (refusal) return refused(alarm, refusal);
      return changed({ ...alarm, latched: false }, 'reset', at, by, reason || null);
    }
    case 'shelve': {
      const refusal = shelveRefusal(alarm, at, act.until, reason);
      if (refusal) return refused(alarm, refusal);
      return changed({ ...alarm, shelvedUntil: act.until }, 'shelved', at, by, reason);
    }
    case 'unshelve':
      if (alarm.shelvedUntil === null) return refused(alarm, { code: 'not-shelved' });
      return changed(shown({ ...alarm, shelvedUntil: null }), 'unshelved', at, by, reason || null);
    case 'take-out-of-service':
      if (reason === '') return refused(alarm, { code: 'reason-missing' });
      if (alarm.outOfService) return refused(alarm, { code: 'already-out-of-service' });
      return changed({ ...alarm, outOfService: true }, 'out-of-service', at, by, reason);
    case 'return-to-service':
      if (!alarm.outOfService) return refused(alarm, { code: 'not-out-of-service' });
      return changed(shown({ ...alarm, outOfService: false }), 'returned-to-service', at, by, reason || null);
    case 'note': {
      const text = act.text.trim();
      if (text === '') return refused(alarm, { code: 'note-empty' });
      return changed(alarm, 'noted', at, by, text);
    }
  }
}

const unacknowledged = (alarm: Alarm): Alarm => ({
  ...alarm,
  acknowledged: false,
  acknowledgedAt: null,
  acknowledgedBy: null,
});

/** Leaving shelved, suppressed or out of service: raised anew when the condition holds, else normal. */
function shown(alarm: Alarm): Alarm {
  if (isHidden(alarm)) return alarm;
  return alarm.active ? unacknowledged(alarm) : { ...alarm, acknowledged: true, latched: false };
}

const unchanged = (alarm: Alarm): AlarmStep => ({ alarm, changes: [] });
const refused = (alarm: Alarm, refusal: Refusal): AlarmStep => ({ alarm, changes: [], refusal });
const changed = (
  alarm: Alarm,
  kind: AlarmChangeKind,
  at: EpochMillis,
  by: string | null = null,
  reason: string | null = null,
): AlarmStep => ({ alarm, changes: [{ kind, at, by, reason, alarm }] });
