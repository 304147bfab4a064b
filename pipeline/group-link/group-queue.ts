// What goes to the group next: the state of the lab before all else, then changes of alarms, then answers to offers, then
// the lab's own figures, charges and patterns, then the newest minute, and only when none of it waits the past, oldest first: figures of whole days, then minutes. What was delivered is settled in the
// database; what was not is taken again, so that nothing is missing, and the group counts each once.

import type { AlarmArchive } from '../../alerts/notices/alarm-archive.ts';
import type { StationStatus } from '../../alerts/watch/engine/station-status.ts';
import type { Alarm } from '../../alerts/watch/life/alarm.ts';
import type { PatternOutlook } from '../../alerts/watch/measures/pattern-outlook.ts';
import type { Store } from '../../collector/store/store.ts';
import { dayAt } from '../../lab/calendar.ts';
import type { DueMinute, GroupLinkTable } from '../../lab/group/group-link-table.ts';
import {
  type ChargeMessage,
  type DayFigures,
  type GroupMessageKind,
  groupTopic,
  type PatternMessage,
} from '../../lab/group/group-message.ts';
import type { GroupOfferTable } from '../../lab/group/group-offer-table.ts';
import type { LabRepository } from '../../lab/database/lab-repository.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import {
  alarmMessage,
  answerMessage,
  chargeMessage,
  contentDigest,
  dayMessage,
  figuresMessage,
  minuteMessage,
  patternMessage,
  standingKey,
  standingMessage,
} from './messages.ts';

export interface GroupSource {
  readonly now: () => EpochMillis;
  readonly repository: Pick<LabRepository, 'lab' | 'allCharges' | 'allPatterns'>;
  readonly store: Pick<Store, 'raw' | 'keepFrom'>;
  readonly archive: Pick<AlarmArchive, 'changeAfter' | 'newestChange'>;
  /** Journal offset of the last commit. */
  readonly offset: () => number;
  readonly statuses: () => readonly StationStatus[];
  readonly openAlarms: () => readonly Alarm[];
  readonly patternOutlook: (pattern: string) => PatternOutlook | undefined;
  /** @throws StoreAway while readings cannot be read */
  readonly dayFigures: (from: EpochMillis, to: EpochMillis) => Promise<DayFigures>;
}

export interface GroupItem {
  readonly topic: string;
  readonly payload: string;
  readonly retain: boolean;
  /** The broker has taken it. */
  readonly delivered: () => void;
}

/** A minute is reported when it is over for so long: what is under way arrives with it. */
const GRACE_MILLIS = 5000;
/** Of a minute that ended less than this ago nothing is of the past. */
const PRESENT_MILLIS = 2 * MILLIS_PER_MINUTE;
/** Temperatures alone are no hurry. */
const STANDING_MILLIS = MILLIS_PER_MINUTE;
const RECORDS_MILLIS = MILLIS_PER_MINUTE;
/** Readings of the last minutes of a day are stored, and its alarms written, long before. */
const DAY_GRACE_MILLIS = 10 * MILLIS_PER_MINUTE;
/** More readings of one probe in one minute than any probe gives. */
const MOST_READINGS = 10_000;
const MOST_PATTERNS = 10_000;

export class GroupQueue {
  readonly #source: GroupSource;
  readonly #table: GroupLinkTable;
  readonly #offers: GroupOfferTable;
  #sentStanding = '';
  #standingAt = -Infinity;
  #isStandingChanged = true;
  #recordsAt = -Infinity;
  #records: GroupItem[] = [];

  constructor(source: GroupSource, table: GroupLinkTable, offers: GroupOfferTable) {
    this.#source = source;
    this.#table = table;
    this.#offers = offers;
  }

  /** The link is on: from here on changes of alarms are due, and every record that is there. */
  begin(): void {
    if (this.#table.alarmChange() === null) this.#table.setAlarmChange(this.#source.archive.newestChange());
    if (this.#table.dayDue() === null)
      this.#table.countDaysFrom(dayAt(this.#source.repository.lab().site, this.#source.now()).to);
    this.labChanged();
  }

  /** A connection has been made: the group sees at once the state of the lab. */
  connected(): void {
    this.#sentStanding = '';
    this.#isStandingChanged = true;
    this.#records = [];
    this.#recordsAt = -Infinity;
  }

  standingChanged(): void {
    this.#isStandingChanged = true;
  }

  labChanged(): void {
    const { charges, patterns } = this.#source.repository.lab();
    this.#table.follow(
      'charge',
      charges.map(({ id }) => id),
    );
    this.#table.follow(
      'pattern',
      patterns.map(({ id }) => id),
    );
    this.#recordsAt = -Infinity;
    this.#isStandingChanged = true;
  }

  waitingAlarmChanges(): number {
    return Math.max(0, this.#source.archive.newestChange() - (this.#table.alarmChange() ?? Infinity));
  }

  /** Null: nothing is due. @throws StoreAway while readings cannot be read */
  async next(): Promise<GroupItem | null> {
    return (
      this.#standing() ??
      this.#alarmChange() ??
      this.#answer() ??
      this.#record() ??
      (await this.#minute('newest')) ??
      (await this.#day()) ??
      (await this.#minute('oldest'))
    );
  }

  #item(kind: GroupMessageKind, message: object, retain: boolean, delivered: () => void): GroupItem {
    const { id } = this.#source.repository.lab().site;
    return { topic: groupTopic(id, kind), payload: JSON.stringify(message), retain, delivered };
  }

  #head() {
    const { now, offset, repository } = this.#source;
    return { site: repository.lab().site.id, offset: offset(), at: now() };
  }

  #standing(): GroupItem | null {
    const { now, repository, statuses, openAlarms } = this.#source;
    const isOld = now() - this.#standingAt >= STANDING_MILLIS;
    if (!this.#isStandingChanged && !isOld) return null;
    this.#isStandingChanged = false;
    const message = standingMessage(this.#head(), repository.lab(), statuses(), openAlarms());
    const key = standingKey(message);
    if (key === this.#sentStanding && !isOld) return null;
    return this.#item('standing', message, true, () => {
      this.#sentStanding = key;
      this.#standingAt = now();
    });
  }

  #alarmChange(): GroupItem | null {
    const { archive, now, repository } = this.#source;
    const from = this.#table.alarmChange();
    const change = from === null ? null : archive.changeAfter(from);
    if (change === null) return null;
    const head = { site: repository.lab().site.id, at: now() };
    return this.#item('alarm', alarmMessage(head, change, this.#table.setting()), false, () =>
      this.#table.setAlarmChange(change.number),
    );
  }

  #answer(): GroupItem | null {
    const answered = this.#offers.dueAnswer();
    if (answered === undefined) return null;
    return this.#item('answer', answerMessage(this.#head(), answered, this.#table.setting()), false, () =>
      this.#offers.settleAnswer(answered.id),
    );
  }

  #record(): GroupItem | null {
    if (this.#records.length === 0 && this.#source.now() - this.#recordsAt >= RECORDS_MILLIS) {
      this.#recordsAt = this.#source.now();
      this.#records = [...this.#changedFigures(), ...this.#changedCharges(), ...this.#changedPatterns()];
    }
    return this.#records.shift() ?? null;
  }

  #changedFigures(): readonly GroupItem[] {
    const message = figuresMessage(this.#head(), this.#source.repository.lab());
    const digest = contentDigest(message);
    if (this.#table.isReported('figures', '', digest)) return [];
    return [this.#item('figures', message, false, () => this.#table.setReported('figures', '', digest))];
  }

  #changedCharges(): readonly GroupItem[] {
    const { repository } = this.#source;
    const open = new Map(repository.lab().charges.map((charge) => [charge.id, charge]));
    return this.#changed('charge', open, repository.allCharges, (charge) =>
      chargeMessage(this.#head(), charge, repository.lab().lots ?? []),
    );
  }

  #changedPatterns(): readonly GroupItem[] {
    const { patternOutlook, repository } = this.#source;
    const open = new Map(repository.lab().patterns.map((pattern) => [pattern.id, pattern]));
    const wax = {
      lots: repository.lab().lots ?? [],
      charges: new Map(repository.allCharges().map((charge) => [charge.id, charge])),
    };
    return this.#changed(
      'pattern',
      open,
      () => repository.allPatterns(MOST_PATTERNS),
      (pattern) =>
        patternMessage(this.#head(), pattern, patternOutlook(pattern.id), wax, this.#table.setting()),
    );
  }

  #changed<T extends { readonly id: string }>(
    kind: 'charge' | 'pattern',
    open: ReadonlyMap<string, T>,
    all: () => readonly T[],
    messageOf: (record: T) => ChargeMessage | PatternMessage,
  ): readonly GroupItem[] {
    const table = this.#table;
    const ended = new Set(table.followed(kind).filter((id) => !open.has(id)));
    const records = [...open.values(), ...(ended.size === 0 ? [] : all().filter(({ id }) => ended.has(id)))];
    return records.flatMap((record) => {
      const message = messageOf(record);
      const digest = contentDigest(message);
      if (table.isReported(kind, record.id, digest)) return [];
      return this.#item(kind, message, false, () => {
        if (ended.has(record.id)) table.unfollow(kind, record.id);
        else table.setReported(kind, record.id, digest);
      });
    });
  }

  /** Figures of a day are due when it is over, and again when readings of it arrive late. */
  async #day(): Promise<GroupItem | null> {
    const { dayFigures, now, repository } = this.#source;
    const due = this.#table.dayDue();
    if (due === null) return null;
    const { date, from, to } = dayAt(repository.lab().site, due);
    if (to > now() - DAY_GRACE_MILLIS) return null;
    const message = dayMessage(this.#head(), date, await dayFigures(from, to));
    return this.#item('day', message, false, () => this.#table.settleDay(due, to));
  }

  /** `newest`: of the present only. */
  async #minute(which: 'newest' | 'oldest'): Promise<GroupItem | null> {
    const { now, store } = this.#source;
    const over = now() - GRACE_MILLIS;
    const due = this.#table.minute(which, over, store.keepFrom());
    if (due === null || (which === 'newest' && due.at < over - PRESENT_MILLIS)) return null;
    return (await this.#minuteItem(due)) ?? this.#minute(which);
  }

  async #minuteItem(due: DueMinute): Promise<GroupItem | null> {
    const { repository, store } = this.#source;
    const from = epochMillis(due.at);
    const to = epochMillis(due.at + MILLIS_PER_MINUTE);
    const probes = await Promise.all(
      repository
        .lab()
        .probes.flatMap(({ id, station }) =>
          station === null
            ? []
            : store
                .raw({ probe: id, from, to, limit: MOST_READINGS })
                .then((readings) => ({ probe: id, station, readings })),
        ),
    );
    const message = minuteMessage(
      { ...this.#head(), offset: due.offset },
      due.at,
      probes,
      this.#table.setting(),
    );
    if (message.probes.length > 0) return this.#item('minute', message, false, () => this.#table.settle(due));
    // All of it belongs to probes without a station, or has been deleted meanwhile.
    this.#table.settle(due);
    return null;
  }
}
