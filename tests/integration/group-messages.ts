// Messages of invented labs, as a lab's own publisher words them.

import { GROUP_MESSAGE_VERSION } from '../../lab/group/group-message-parts.ts';
import type {
  AlarmMessage,
  ChargeMessage,
  DayMessage,
  MinuteMessage,
  PatternMessage,
  StandingMessage,
} from '../../lab/group/group-message.ts';
import { iso } from '../../wax/iso.ts';

const AT = Date.UTC(2031, 2, 3, 8);
const headOf = (site: string, offset: number) => ({
  version: GROUP_MESSAGE_VERSION as 1,
  site,
  offset,
  sent_at: iso(AT + offset),
});

export const alarmOf = (site: string, number: number): AlarmMessage => ({
  ...headOf(site, number),
  change: 'raised',
  at: iso(AT + number * 1000),
  by: null,
  alarm: {
    id: `pot-1.over-ceiling.${AT + number * 1000}`,
    rule: 'over-ceiling',
    subject: 'pot-1',
    subject_kind: 'station',
    priority: 'high',
    active: true,
    acknowledged: false,
    latched: false,
    shelved_until: null,
    suppressed: false,
    out_of_service: false,
    tense: 'now',
    raised_at: iso(AT + number * 1000),
    acknowledged_at: null,
    cleared_at: null,
  },
});

export const minuteOf = (site: string, minute: number, offset: number, celsius = 60): MinuteMessage => ({
  ...headOf(site, offset),
  at: iso(AT + minute * 60_000),
  probes: [
    {
      probe: 'pot-1-a',
      station: 'pot-1',
      count: 6,
      doubtful: 0,
      min_celsius: celsius - 1,
      mean_celsius: celsius,
      max_celsius: celsius + 1,
    },
  ],
});

export const dayOf = (site: string, date: string, change: Partial<DayMessage> = {}): DayMessage => ({
  ...headOf(site, 1),
  date,
  places: [],
  heaters: [],
  stations: 1,
  alarms: { announced: 0, nuisance: 0 },
  ...change,
});

export const chargeOf = (site: string, id: string, lots: ChargeMessage['lots']): ChargeMessage => ({
  ...headOf(site, 1),
  id,
  station: 'pot-1',
  wax: 'inlay-type-2',
  grams: 400,
  lots,
  started_at: iso(AT),
  top_ups: 0,
  cleaned_at: null,
  ended_at: null,
});

export const patternOf = (
  site: string,
  id: string,
  change: Partial<PatternMessage> = {},
): PatternMessage => ({
  ...headOf(site, 1),
  id,
  kind: 'pattern',
  wax: 'inlay-type-2',
  lot: null,
  station: null,
  made_at: iso(AT),
  verdict: null,
  reason: null,
  due_at: null,
  fate: null,
  ...change,
});

/** Two stations, both as they should be. */
export const standingOf = (site: string, change: Partial<StandingMessage> = {}): StandingMessage => {
  const station = {
    kind: 'melt-pot',
    wax: 'inlay-type-2',
    condition: 'in-window',
    celsius: 61.5,
    measured_at: iso(AT),
    minutes_to_ceiling: null,
    dose_share: 0.25,
    swing_celsius: null,
  };
  return {
    ...headOf(site, 1),
    name: `Lab ${site}`,
    time_zone: 'Europe/Berlin',
    stations: [
      { ...station, id: 'pot-1', name: 'Melt pot' },
      { ...station, id: 'pot-2', name: 'Dipping pot' },
    ],
    alarms: [],
    ...change,
  };
};
