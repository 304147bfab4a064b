// How JSON of any shape becomes readings: which topics, and where in the document value and time are. As a person sets
// it up, and what of it contradicts itself.

import { type Problem, problem } from '../../wax/result.ts';

export const MAPPED_UNITS = ['Cel', 'K', 'Far', 'Ohm', 'mV', 'V'] as const;
export const BATTERY_UNITS = ['%', 'V', 'mV'] as const;
export const MAPPED_TIMES = ['iso', 'seconds', 'milliseconds'] as const;

export interface PayloadMapping {
  readonly id: string;
  /** Off: its topics are followed and shown in quarantine, so that the mapping can be tried, and nothing is taken. */
  readonly isOn: boolean;
  /** MQTT topic filter with `+` and `#`. */
  readonly topic: string;
  readonly gateway: string;
  /** Name of the probe; `{1}` stands for the first `+` of the topic, `{2}` for the second. */
  readonly probe: string;
  /** JSON pointer (RFC 6901) to the value. */
  readonly value: string;
  readonly unit: (typeof MAPPED_UNITS)[number];
  /** JSON pointer to the instant of measurement; without one it is that of arrival. */
  readonly time?: string;
  readonly timeFormat?: (typeof MAPPED_TIMES)[number];
  /** JSON pointer to the battery. */
  readonly battery?: string;
  /** Absent: percent. */
  readonly batteryUnit?: (typeof BATTERY_UNITS)[number];
  /** JSON pointer to the strength of the radio signal, dBm. */
  readonly signal?: string;
}

/** Roots that have formats of their own, and what belongs to the broker. */
const TAKEN_ROOTS = new Set(['wax', 'spBv1.0', '$SYS', '+', '#']);
const WILDCARD = /^(\+|#|[^+#]*)$/;

const isFilter = (topic: string): boolean => {
  const levels = topic.split('/');
  return (
    !TAKEN_ROOTS.has(levels[0] ?? '') &&
    !topic.startsWith('$') &&
    levels.every((level, index) => WILDCARD.test(level) && (level !== '#' || index === levels.length - 1))
  );
};

/** Why the mapping cannot work, by field; null when it can. */
export function mappingFault({
  topic,
  probe,
}: PayloadMapping): (Problem & { readonly field: string }) | null {
  if (!isFilter(topic)) return { ...problem('mapping-topic', {}, topic), field: 'topic' };
  const wildcards = topic.split('/').filter((level) => level === '+').length;
  const asked = [...probe.matchAll(/\{(\d+)\}/g)].map(([, number]) => Number(number));
  return asked.every((number) => number >= 1 && number <= wildcards)
    ? null
    : { ...problem('mapping-probe', { wildcards }, probe), field: 'probe' };
}

/**
 * What the topic has where the filter has `+`; null when the topic does not match.
 * @example filterParts('pots/+/values', 'pots/pot-1/values') // ['pot-1']
 */
export function filterParts(filter: string, topic: string): readonly string[] | null {
  const pattern = filter.split('/');
  const levels = topic.split('/');
  const hasRest = pattern.at(-1) === '#';
  const fixed = hasRest ? pattern.slice(0, -1) : pattern;
  if (hasRest ? levels.length < fixed.length : levels.length !== fixed.length) return null;
  return fixed.every((level, index) => level === '+' || level === levels[index])
    ? fixed.flatMap((level, index) => (level === '+' ? [levels[index] ?? ''] : []))
    : null;
}
