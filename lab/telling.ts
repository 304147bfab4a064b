// The lab's plan of who is told of an alarm: who is on duty in which week, who is told next and when, what may wake
// anyone outside working hours. Plan only: secrets and the addresses of phones are kept elsewhere.

/** Priorities that an alarm can have; notices are told to nobody. */
export const TOLD_PRIORITIES = ['urgent', 'high', 'medium', 'low'] as const;
export type ToldPriority = (typeof TOLD_PRIORITIES)[number];

export const TOLD_GROUPS = ['on-duty', 'next', 'managers'] as const;
export type ToldGroup = (typeof TOLD_GROUPS)[number];

/** Weekly turns. The weekday of `startsOn` is that of every handover. */
export interface Rota {
  /** Ids of persons in the order of their turns. */
  readonly people: readonly string[];
  /** `YYYY-MM-DD`: the first turn of the first person begins on this day. */
  readonly startsOn: string;
  /** `HH:MM` in the lab's zone. */
  readonly handoverTime: string;
}

/** Both days belong to it. */
export interface Absence {
  readonly person: string;
  readonly from: string;
  readonly to: string;
}

export interface EscalationStep {
  /** Minutes without acknowledgement after which this group is told. */
  readonly afterMinutes: number;
  readonly who: ToldGroup;
}

export interface Webhook {
  readonly id: string;
  readonly name: string;
  readonly url: string;
  /** JSON with `{name}` places; null sends the whole notice. */
  readonly template: string | null;
}

export interface Telling {
  /** Null: everybody who may handle alarms is on duty. */
  readonly rota: Rota | null;
  readonly absences: readonly Absence[];
  readonly escalation: readonly EscalationStep[];
  /** Alarms of other priorities wait for the next opening of the lab. */
  readonly outsideHours: readonly ToldPriority[];
  /** `HH:MM`: when those who want it hear that the watch is alive; null for never. */
  readonly heartbeatAt: string | null;
  readonly webhooks: readonly Webhook[];
  /** MQTT topics of lamps and buzzers that hear every told change, beside the retained ones of each station. */
  readonly lampTopics: readonly string[];
}

/** Common practice of small labs, no source: ten minutes for each before the next one hears of it. */
export const TELLING_DEFAULTS: Telling = {
  rota: null,
  absences: [],
  escalation: [
    { afterMinutes: 0, who: 'on-duty' },
    { afterMinutes: 10, who: 'next' },
    { afterMinutes: 20, who: 'managers' },
  ],
  outsideHours: ['urgent', 'high'],
  heartbeatAt: null,
  webhooks: [],
  lampTopics: [],
};

export const tellingOf = (lab: { readonly telling?: Telling }): Telling => lab.telling ?? TELLING_DEFAULTS;
