// How soon an alarm needs a person. A rule without an answer a person can give is a notice, not an alarm.

export const PRIORITIES = ['urgent', 'high', 'medium', 'low', 'notice'] as const;
export type Priority = (typeof PRIORITIES)[number];
