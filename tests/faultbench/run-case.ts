// A case through the real decoder, qualification, rules and alarms, and through the real plan of who is notified up to the
// hand-over to a phone. The only file of the bench that touches them. Pure of clocks: time is that of the case.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { isHidden } from '../../alerts/watch/life/alarm-state.ts';
import type { Alarm, AlarmChange } from '../../alerts/watch/life/alarm.ts';
import { openNotices } from '../../alerts/notices/outbox/notices.ts';
import { openOutbox } from '../../alerts/notices/outbox/outbox.ts';
import { sendAnswer } from '../../alerts/notices/outbox/send-answer.ts';
import { isCall } from '../../alerts/notices/outbox/lane.ts';
import type { OutboxMessage } from '../../alerts/notices/outbox/outbox-row.ts';
import { outboxRunner } from '../../alerts/notices/outbox/runner.ts';
import type { RuleKind } from '../../alerts/watch/rules/all-rules.ts';
import { RULES_BY_PLACE } from '../../alerts/watch/rules/rules-by-place.ts';
import { waxWatch } from '../../alerts/watch/wax-watch.ts';
import { decodeMessage } from '../../collector/decode/decode-message.ts';
import type { QualifyParts } from '../../collector/qualify/probe-record.ts';
import { qualify } from '../../collector/qualify/qualify.ts';
import type { AlarmAct } from '../../lab/act.ts';
import { openDatabase } from '../../lab/database/database.ts';
import type { Entry } from '../../lab/entry.ts';
import type { Lab } from '../../lab/lab.ts';
import { labFileContradictions } from '../../lab/lab-file/lab-file-checks.ts';
import type { LabelledCase } from '../../simulators/cases/case.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import { TECHNICIAN } from './case-lab.ts';
import { type CaseEntries, caseEntries } from './case-entries.ts';

export { RULE_KINDS, type RuleKind } from '../../alerts/watch/rules/all-rules.ts';

/** One beginning of an alarm that people can see. */
export interface Beginning {
  readonly alarm: string;
  readonly rule: RuleKind;
  readonly subject: string;
  readonly subjectKind: Alarm['subjectKind'];
  readonly priority: Alarm['priority'];
  readonly tense: Alarm['tense'];
  /** When it was shown: arrival of what caused it, epoch milliseconds. */
  readonly at: number;
  /** When a notice of it was handed to the technician's phone; null when it never was. */
  readonly notifiedAt: number | null;
  readonly evidence: Alarm['evidence'];
}

export interface RunOptions {
  /** Rules that are left out of the watch. */
  readonly without?: readonly RuleKind[];
}

/** Settings that the product would refuse in a lab file, each as where and why. */
export const refusedSettings = (lab: Lab): readonly string[] =>
  labFileContradictions(lab, { rules: RULES_BY_PLACE }).map(({ code, path }) => `${path.join('.')}: ${code}`);

/** A person acknowledges so long after being notified, and resets so long after it is over. */
const ANSWER_MILLIS = 3 * MILLIS_PER_MINUTE;

export async function runCase(
  labelled: LabelledCase,
  lab: Lab,
  { without = [] }: RunOptions = {},
): Promise<readonly Beginning[]> {
  const watchedLab = withoutRules(lab, without);
  const technician = openTechnician(watchedLab);
  const entries = caseEntries(labelled, ANSWER_MILLIS, messageEntries);
  const qualifyParts: QualifyParts = {};
  let state = waxWatch.initial();
  try {
    for (let batch = entries.next(); batch.length > 0; batch = entries.next()) {
      const qualified = batch.flatMap(
        (entry) => qualify(qualifyParts, entry, watchedLab, () => null).entry ?? [],
      );
      const whole = waxWatch.stepAll(state, qualified, watchedLab);
      const isQuiet = whole.alarmChanges.length === 0;
      if (isQuiet && !technician.isWaiting()) {
        state = whole.state;
        continue;
      }
      // Once more one by one, for the arrival at which each change came about.
      for (const entry of qualified) {
        const step = isQuiet ? whole : waxWatch.step(state, entry, watchedLab);
        state = step.state;
        const changes = step.alarmChanges.filter(({ alarm }) => !without.includes(alarm.rule));
        await technician.takes(entry, changes, entries);
      }
    }
    return technician.beginnings();
  } finally {
    technician.close();
  }
}

/** Rules that a lab may switch off are switched off at every station; of the others the alarms are dropped. */
const withoutRules = (lab: Lab, without: readonly RuleKind[]): Lab =>
  without.length === 0
    ? lab
    : {
        ...lab,
        stations: lab.stations.map((station) => ({
          ...station,
          rules: {
            ...station.rules,
            ...Object.fromEntries(without.map((rule) => [rule, { enabled: false }])),
          },
        })),
      };

const encoder = new TextEncoder();

/** A reading as its gateway sends it: SenML with the gateway's own time. */
function messageEntries(
  gateway: string,
  probe: string,
  at: number,
  receivedAt: number,
  celsius: number,
): readonly Entry[] {
  const record = `[{"n":"${probe}","u":"Cel","t":${at / 1000},"v":${celsius}}]`;
  return decodeMessage({
    topic: `wax/case/${gateway}/senml`,
    payload: encoder.encode(record),
    receivedAt: epochMillis(receivedAt),
    delivery: 'live',
    site: 'case',
  }).entries;
}

const calls = (alarm: Alarm): boolean => alarm.active && !alarm.acknowledged && !isHidden(alarm);
const SHOWS: readonly AlarmChange['kind'][] = ['raised', 'raised-again', 'unsuppressed'];
const keyOf = ({ id, count }: Pick<Alarm, 'id' | 'count'>): string => `${id} ${count}`;

/** The one person of the lab: always on duty, with one phone; sees alarms, is notified of them, answers them. */
function openTechnician(lab: Lab) {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-case-'));
  const database = openDatabase(join(folder, 'case.db'));
  // It is thrown away with the case: to wait for the disk at each tick took a third of the time.
  database.writer.pragma('synchronous = OFF');
  const outbox = openOutbox(database);
  let now: EpochMillis = epochMillis(0);
  let timer: { readonly at: number; readonly work: () => void } | null = null;
  let notified: Alarm[] = [];
  const notices = openNotices({
    database,
    outbox,
    lab: () => lab,
    reach: () => ({ phones: () => ['phone'], mailIsSetUp: false, isFailing: () => false }),
    now: () => now,
    isSending: () => true,
    onUnreachable: () => {},
    onAdded: () => {},
  });
  const toPhone = async ({ rows }: OutboxMessage) => {
    for (const { kind, body } of rows) if (isCall(kind) && body.alarm !== null) notified.push(body.alarm);
    return { kind: 'delivered' as const, answer: sendAnswer('answered') };
  };
  const runner = outboxRunner({
    outbox,
    senders: { push: toPhone, mail: toPhone, webhook: toPhone, lamp: toPhone, mqtt: toPhone },
    now: () => now,
    after: (millis, work) => {
      const mine = { at: now + millis, work };
      timer = mine;
      return () => {
        if (timer === mine) timer = null;
      };
    },
    onChannel: () => {},
    onGone: () => {},
    onTried: () => {},
  });
  const begun = new Map<string, Omit<Beginning, 'notifiedAt'>>();
  const notifiedAt = new Map<string, number>();
  const calling = new Set<string>();

  const handOver = async (
    entry: Entry,
    changes: readonly AlarmChange[],
    plan: Pick<CaseEntries, 'act'>,
  ): Promise<void> => {
    const isTick = entry.kind === 'tick';
    const isDue = timer !== null && timer.at <= entry.receivedAt;
    if (changes.length === 0 && !isDue && !(isTick && calling.size > 0)) return;
    now = entry.receivedAt;
    database.transaction(() => notices.write(changes, isTick ? now : null)(database.writer));
    await runner.runDue();
    for (const alarm of notified) {
      const key = keyOf(alarm);
      if (!notifiedAt.has(key)) notifiedAt.set(key, now);
      const act: AlarmAct = { type: 'acknowledge', alarm: alarm.id, seenCount: alarm.count, by: TECHNICIAN };
      plan.act(now + ANSWER_MILLIS, act);
    }
    notified = [];
  };

  const sees = (at: EpochMillis, { kind, alarm }: AlarmChange, plan: Pick<CaseEntries, 'act'>): void => {
    if (calls(alarm)) calling.add(alarm.id);
    else calling.delete(alarm.id);
    const key = keyOf(alarm);
    if (SHOWS.includes(kind) && calls(alarm) && !begun.has(key)) begun.set(key, beginningOf(alarm, at));
    if (alarm.latched && !alarm.active && alarm.acknowledged && kind !== 'reset')
      plan.act(at + ANSWER_MILLIS, { type: 'reset', alarm: alarm.id, by: TECHNICIAN });
  };

  return {
    takes: async (
      entry: Entry,
      changes: readonly AlarmChange[],
      plan: Pick<CaseEntries, 'act'>,
    ): Promise<void> => {
      for (const change of changes) sees(entry.receivedAt, change, plan);
      await handOver(entry, changes, plan);
    },
    isWaiting: (): boolean => calling.size > 0 || timer !== null,
    beginnings: (): readonly Beginning[] =>
      [...begun].map(([key, beginning]) => ({ ...beginning, notifiedAt: notifiedAt.get(key) ?? null })),
    close: () => {
      database.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

const beginningOf = (alarm: Alarm, at: number): Omit<Beginning, 'notifiedAt'> => ({
  alarm: alarm.id,
  rule: alarm.rule,
  subject: alarm.subject,
  subjectKind: alarm.subjectKind,
  priority: alarm.priority,
  tense: alarm.tense,
  at,
  evidence: alarm.evidence,
});
