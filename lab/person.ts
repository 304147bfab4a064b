// A person of the lab: who may do what, how to reach them, and in which language and units they read.

export const ROLES = ['viewer', 'technician', 'manager'] as const;
export type Role = (typeof ROLES)[number];

/** When e-mail is written beside the phone. */
export const MAIL_WHEN = ['always', 'no-phone', 'never'] as const;

/** BCP 47, as the folders of words are named. */
export const LANGUAGE_PATTERN = '^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$';

/** One plain address: neither a list nor a group nor a remark in brackets, which RFC 5322 has signs for. */
export const MAIL_ADDRESS_PATTERN = '^[^@\\s<>()[\\]\\\\,;:"]+@[^@\\s<>()[\\]\\\\,;:"]+$';

export interface Person {
  readonly id: string;
  readonly name: string;
  readonly role: Role;
  /** The name of a folder of words, e.g. `de`; English is shown where it is not there. */
  readonly language: string;
  readonly temperatureUnit: 'celsius' | 'fahrenheit';
  readonly hourCycle: 'h12' | 'h23';
  readonly email: string | null;
  /** Case references may be shown on this person's lock screen. */
  readonly namesOnLockScreen: boolean;
  readonly morningHeartbeat: boolean;
  /** Absent: only while no phone of this person is subscribed. */
  readonly mail?: (typeof MAIL_WHEN)[number];
}
