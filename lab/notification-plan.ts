// The lab's notification plan: who is on duty in which week, who is notified next and when, what may wake anyone
// outside working hours. Plan only: secrets and the addresses of phones are stored elsewhere.

/** Priorities that people are notified of; a notice is shown on the screens only. */
export const NOTIFIED_PRIORITIES = ['urgent', 'high', 'medium', 'low'] as const;
export type NotifiedPriority = (typeof NOTIFIED_PRIORITIES)[number];

export const NOTIFIED_GROUPS = ['on-duty', 'next', 'managers'] as const;
export type NotifiedGroup = (typeof NOTIFIED_GROUPS)[number];

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
  /** Minutes without acknowledgement after which this group is notified. */
  readonly afterMinutes: number;
  readonly who: NotifiedGroup;
}

export interface Webhook {
  readonly id: string;
  readonly name: string;
  readonly url: string;
  /** JSON with `{name}` places; null sends the whole notice. */
  readonly template: string | null;
}

export interface NotificationPlan {
  /** Null: everybody who may handle alarms is on duty. */
  readonly rota: Rota | null;
  readonly absences: readonly Absence[];
  readonly escalation: readonly EscalationStep[];
  /** Alarms of other priorities wait for the next opening of the lab. */
  readonly outsideHours: readonly NotifiedPriority[];
  /** `HH:MM`: when those who want it are sent a sign that the watch is running; null for never. */
  readonly heartbeatAt: string | null;
  readonly webhooks: readonly Webhook[];
  /** MQTT topics of lamps and buzzers that receive every notified change, beside the retained ones of each station. */
  readonly lampTopics: readonly string[];
}

/** Common practice of small labs, no source: ten minutes for each group before the next one is notified. */
export const DEFAULT_NOTIFICATION_PLAN: NotificationPlan = {
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

export const notificationPlanOf = (lab: { readonly notificationPlan?: NotificationPlan }): NotificationPlan =>
  lab.notificationPlan ?? DEFAULT_NOTIFICATION_PLAN;
