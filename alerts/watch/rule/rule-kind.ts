// Every rule by name. A rule without an answer a person can give is a notice, not an alarm.

export const RULE_KINDS = [
  // heat
  'over-ceiling',
  'fire-risk',
  'heading-over',
  'runaway',
  'outside-window',
  'left-on',
  'no-heat',
  'heater-weak',
  'low-pot',
  'thermostat-drift',
  'uneven-annealer',
  'soak-incomplete',
  'soak-ready',
  'wrong-bath',
  'bath-drift',
  'heat-dose-half',
  'heat-dose-high',
  'charge-spent',
  'cleaning-due',
  // storage
  'storage-swing',
  'storage-rate',
  'storage-warm',
  'storage-cold',
  'storage-heading',
  'door-open',
  'night-swing',
  'pattern-due',
  'pattern-warm',
  'pattern-weekend',
  // measuring
  'probe-silent',
  'gateway-lost',
  'probe-stuck',
  'probe-noisy',
  'probe-jump',
  'probe-loose',
  'probe-out',
  'probe-drift',
  'probe-disagrees',
  'calibration-due',
  'gateway-clock',
  // the watcher itself
  'store-failing',
  'disk-failing',
  'nobody-subscribed',
  'channel-failing',
] as const;

export type RuleKind = (typeof RULE_KINDS)[number];

export const PRIORITIES = ['urgent', 'high', 'medium', 'low', 'notice'] as const;
export type Priority = (typeof PRIORITIES)[number];
