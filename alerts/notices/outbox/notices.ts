// What the alarm's transaction also writes: the escalation's state and the lines of the outbox. All of it is read
// and written inside that transaction, so that a batch that is tried again sends each notice once.

import type { Connection, LabDatabase } from '../../../lab/database/database.ts';
import type { Lab } from '../../../lab/lab.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { AlarmChange } from '../../watch/life/alarm.ts';
import {
  ESCALATION_START,
  type EscalationInput,
  type EscalationState,
  escalationStep,
  type Notice,
  setBackMillis,
} from '../duty/escalation.ts';
import { type Reach, rowsForMachines, rowsForPeople } from './address-rows.ts';
import { isCall } from './lane.ts';
import type { Outbox } from './outbox.ts';
import type { NewRow } from './outbox-row.ts';

const STEPS = ['CREATE TABLE escalation (only INTEGER PRIMARY KEY CHECK (only = 1), state TEXT NOT NULL);'];

export interface Notices {
  /**
   * Returns the write, to be run in the alarm's transaction. `passed` is the newest instant of the batch; null when
   * no time passed in it.
   */
  readonly write: (
    changes: readonly AlarmChange[],
    passed: EpochMillis | null,
  ) => (connection: Connection) => void;
  /** Nobody has acknowledged the alarm and it is not over. */
  readonly isOpen: (alarm: string) => boolean;
}

export interface NoticesParts {
  readonly database: LabDatabase;
  readonly outbox: Outbox;
  readonly lab: () => Lab;
  readonly reach: () => Reach;
  /** Tries and waiting count from here: what happened long ago and is learned now is news now. */
  readonly now: () => EpochMillis;
  /** False while a simulated past is put in: nobody is notified of it. */
  readonly isSending: () => boolean;
  /** None of the persons of a notice has a phone or e-mail; called after the transaction. */
  readonly onUnreachable: (notice: Notice) => void;
  /** Rows were added and are committed. */
  readonly onAdded: () => void;
}

export function openNotices(parts: NoticesParts): Notices {
  const { database, outbox } = parts;
  database.migrate('escalation', STEPS);
  const read = database.writer.prepare<[], string>('SELECT state FROM escalation').pluck();
  const save = database.writer.prepare('INSERT OR REPLACE INTO escalation VALUES (1, ?)');
  /** It is read at each change and each try, and grows with the open alarms; an undone transaction changes the text. */
  let newest = { text: '', state: ESCALATION_START };
  const stateNow = (): EscalationState => {
    const text = read.get();
    if (text === undefined) return ESCALATION_START;
    if (text !== newest.text) newest = { text, state: JSON.parse(text) };
    return newest.state;
  };
  return {
    isOpen: (alarm) => Object.hasOwn(stateNow().open, alarm),
    write: (changes, passed) => () => {
      if (changes.length === 0 && passed === null) return;
      const lab = parts.lab();
      const reach = parts.reach();
      const before = stateNow();
      const learnedAt = parts.now();
      const inputs: EscalationInput[] = [
        { kind: 'clock', at: learnedAt },
        ...changes.map((change) => ({ kind: 'change', change, learnedAt }) as const),
        ...(passed === null ? [] : [{ kind: 'tick', at: passed } as const]),
      ];
      const setBack = setBackMillis(before, learnedAt);
      if (setBack > 0) outbox.moveBack(setBack);
      let state = before;
      const rows: NewRow[] = [];
      for (const input of inputs) {
        const step = escalationStep(state, input, lab);
        state = step.state;
        for (const notice of step.notices) {
          const forPeople = rowsForPeople(notice, lab, reach, learnedAt);
          rows.push(...forPeople);
          if (forPeople.length === 0 && isCall(notice.kind) && parts.isSending())
            database.afterTransaction(() => parts.onUnreachable(notice));
        }
        if (input.kind === 'change') rows.push(...rowsForMachines(input.change, lab, reach, learnedAt));
      }
      if (parts.isSending()) outbox.add(rows);
      if (state !== before) {
        newest = { text: JSON.stringify(state), state };
        save.run(newest.text);
      }
      if ((rows.length > 0 || setBack > 0) && parts.isSending()) database.afterTransaction(parts.onAdded);
    },
  };
}
