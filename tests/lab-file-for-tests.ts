// Lab files that are read against a few rules, for tests of reading and writing.

import type { RulesByPlace } from '../lab/lab-file/own-figure-checks.ts';

export const SITE = 'site:\n  id: north\n  name: North\n  time_zone: Europe/Berlin\n';
const RULES = {
  'over-ceiling': {
    parameters: { on_delay_seconds: { default: 10, low: 0, high: 60 } },
    mayBeSwitchedOff: false,
  },
  'left-on': { parameters: {}, mayBeSwitchedOff: true },
  'gateway-lost': {
    parameters: { least_probes_count: { default: 3, low: 2, high: 100 } },
    mayBeSwitchedOff: false,
  },
};
const { 'gateway-lost': gatewayLost, ...STATION_RULES } = RULES;
export const RULES_BY_PLACE: RulesByPlace = {
  all: RULES,
  at: (place) => (place === 'lab' ? { 'gateway-lost': gatewayLost } : STATION_RULES),
};
