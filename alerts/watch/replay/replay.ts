// Recorded entries through the rules once more, with the lab as it is or as it would be: what would have been raised, and
// when. Time is that of the entries, so that it runs as fast as it can and comes to the same each time.

import type { AlarmAct } from '../../../lab/act.ts';
import type { Entry } from '../../../lab/entry.ts';
import type { Lab } from '../../../lab/lab.ts';
import type { LabOverTime } from '../../../lab/database/past-lab.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import { allAlarms } from '../engine/state/draft.ts';
import type { WatchState } from '../engine/state/memory.ts';
import type { Alarm, AlarmChange } from '../life/alarm.ts';
import type { Finding } from '../life/finding.ts';
import { alarmHistory } from '../quality/announcements.ts';
import { isNotice } from '../rule/rule.ts';
import { type RuleKind, RULES } from '../rules/all-rules.ts';
import { waxWatch } from '../wax-watch.ts';

/** One time that a rule held and people could see it. */
export interface Raised {
  readonly rule: RuleKind;
  /** Id of the station, probe, gateway or pattern; `site` for the lab as a whole. */
  readonly subject: string;
  readonly from: EpochMillis;
  /** Null: it still holds at the end. */
  readonly to: EpochMillis | null;
}

export interface Replay {
  /** Takes the next entries, in order of arrival. */
  readonly take: (entries: readonly Entry[]) => void;
  /** Of alarms so far, oldest first; not how their evidence grew. */
  readonly changes: () => readonly AlarmChange[];
  /** By the entries so far, oldest first. */
  readonly raised: () => readonly Raised[];
}

/**
 * Starts from an empty state: what is usual for a heater is learned on the way.
 * @param labAt by which entries are judged that arrive at an instant; the same value until it changes
 * @example
 * const replay = startReplay(unchanging(lab));
 * replay.take(entries);
 * replay.raised(); // [{ rule: 'over-ceiling', subject: 'pot-1', from: 1772611260000, to: 1772611860000 }]
 */
export function startReplay(labAt: LabOverTime): Replay {
  const changes: AlarmChange[] = [];
  const notices: Finding[] = [];
  let state: WatchState = waxWatch.initial();
  const run = (entries: readonly Entry[]): void => {
    for (const { lab, part } of partsByLab(entries, labAt)) {
      const step = waxWatch.advance(state, part, lab);
      state = step.state;
      changes.push(...step.alarmChanges.filter(({ kind }) => kind !== 'updated'));
      notices.push(
        ...step.findings.filter(({ phase, rule }) => phase !== 'updates' && isNotice(RULES[rule])),
      );
    }
  };
  return {
    take: (entries) => {
      let from = 0;
      for (const [index, entry] of entries.entries()) {
        if (entry.kind !== 'act' || !('alarm' in entry.act)) continue;
        run(entries.slice(from, index));
        run([{ ...entry, act: aimAct(entry.act, allAlarms(state)) }]);
        from = index + 1;
      }
      run(from === 0 ? entries : entries.slice(from));
    },
    changes: () => changes,
    raised: () => [...findRaised(changes), ...findNoticed(notices)].sort(inOrder),
  };
}

/** Runs of entries that one lab judges. */
function partsByLab(entries: readonly Entry[], labAt: LabOverTime) {
  const parts: { readonly lab: Lab; readonly part: Entry[] }[] = [];
  for (const entry of entries) {
    const lab = labAt(entry.receivedAt);
    const newest = parts.at(-1);
    if (newest?.lab === lab) newest.part.push(entry);
    else parts.push({ lab, part: [entry] });
  }
  return parts;
}

/**
 * An alarm is named by when it was raised. By other settings it may have been raised at another time; what people did
 * to it they do to that one.
 */
function aimAct(act: AlarmAct, open: readonly Alarm[]): AlarmAct {
  if (open.some(({ id }) => id === act.alarm)) return act;
  const same = open.find(({ rule, subject }) => act.alarm.startsWith(`${subject}.${rule}.`));
  if (same === undefined) return act;
  if (act.type !== 'acknowledge') return { ...act, alarm: same.id };
  const { seenCount: _, ...acknowledged } = act;
  return { ...acknowledged, alarm: same.id };
}

const inOrder = (a: Raised, b: Raised): number =>
  a.from - b.from || (`${a.subject}.${a.rule}` < `${b.subject}.${b.rule}` ? -1 : 1);

/** From the history of alarms, replayed or recorded, oldest first; what was hidden when it began is left out. */
export function findRaised(changes: readonly AlarmChange[]): readonly Raised[] {
  const live = alarmHistory(changes)
    .stays.filter(({ wasHidden }) => !wasHidden)
    .map(({ rule, subject, from, to }) => ({ rule, subject, from, to }));
  const learned = changes.flatMap(({ kind, alarm: { rule, subject, raisedAt, clearedAt } }) =>
    kind === 'learned' ? [{ rule, subject, from: raisedAt, to: clearedAt }] : [],
  );
  return [...live, ...learned].sort(inOrder);
}

/** Rules that only note something raise no alarm. */
function findNoticed(findings: readonly Finding[]): readonly Raised[] {
  const raised: Raised[] = [];
  const open = new Map<string, number>();
  for (const { at, phase, rule, subject } of findings) {
    const key = `${subject}.${rule}`;
    const index = open.get(key);
    if (phase === 'begins' && index === undefined) {
      open.set(key, raised.length);
      raised.push({ rule, subject, from: at, to: null });
    } else if (phase === 'ends' && index !== undefined) {
      const begun = raised[index];
      if (begun !== undefined) raised[index] = { ...begun, to: at };
      open.delete(key);
    }
  }
  return raised;
}
