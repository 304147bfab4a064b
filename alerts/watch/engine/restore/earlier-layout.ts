// What the watch stored before its state had a number of its layout: probes lay within their station, closed stretches
// under `past:`, the site was an object. What later versions learn anew is left out of these schemas.

import { type Static, Type } from 'typebox';
import { Compile } from 'typebox/schema';
import { WAX_CLASS_IDS } from '../../../../wax/classes/wax-class-id.ts';
import type { DoseState } from '../../../../wax/heat/heat-dose.ts';
import type { MktState } from '../../../../wax/heat/mean-kinetic-temperature.ts';
import type { RainflowState } from '../../../../wax/numbers/rainflow.ts';
import type { RelaxationState } from '../../../../wax/relaxation/relaxation.ts';
import type { SoakState } from '../../../../wax/heat/soak.ts';
import type { EpochMillis } from '../../../../wax/units.ts';
import type { Alarm } from '../../life/alarm.ts';
import type { TenMinutes } from '../../measures/ten-minutes.ts';
import type { Trend } from '../../measures/trend.ts';
import { PRIORITIES } from '../../rule/priority.ts';
import { RULE_KINDS } from '../../rules/all-rules.ts';
import type { Conditions as PresentConditions } from '../state/memory.ts';
import { Nullable } from '../../../../lab/nullable.ts';

const Count = Type.Number();
const Instant = Type.Unsafe<EpochMillis>(Type.Number());
/** An object of numbers alone, of a type whose units the numbers keep. */
const numbersOf = <T extends object>(...keys: readonly (keyof T & string)[]) =>
  Type.Unsafe<T>(Type.Object(Object.fromEntries(keys.map((key) => [key, Count]))));

const Evidence = Type.Record(Type.String(), Type.Union([Type.Number(), Type.String()]));
const Tense = Type.Enum(['now', 'learned']);
const Conditions = Type.Record(
  Type.String(),
  Type.Union([
    Type.Object({ phase: Type.Literal('pending'), since: Instant }),
    Type.Object({
      phase: Type.Literal('on'),
      since: Instant,
      tense: Tense,
      evidence: Evidence,
      worst: Count,
      goneSince: Nullable(Instant),
    }),
  ]),
);

const Charge = Type.Object({
  dose: numbersOf<DoseState>('hours', 'hotSeconds', 'gapSeconds', 'at', 'celsius', 'readings', 'refused'),
  gaps: Type.Array(Type.Object({ from: Count, fromCelsius: Count, to: Count, toCelsius: Count })),
});
const Stretch = numbersOf<TenMinutes>('at', 'low', 'high', 'sum', 'count');
const Soak = Type.Unsafe<SoakState>(
  Type.Object({ at: Count, outside: Count, cells: Count, temperatures: Type.Array(Count), skipped: Count }),
);

const Probe = Type.Object({
  newestAt: Count,
  celsius: Count,
  readings: Count,
  periodSeconds: Count,
  rules: Conditions,
});

const Station = Type.Object({
  at: Count,
  celsius: Count,
  uncertainty: Count,
  probes: Type.Record(Type.String(), Probe),
  trend: Nullable(numbersOf<Trend>('at', 'readings', 'weight', 't', 'tt', 'y', 'ty', 'origin')),
  bucket: Nullable(Stretch),
  activity: Nullable(
    Type.Union([
      Type.Object({ kind: Type.Literal('cold') }),
      Type.Object({ kind: Type.Literal('warming'), since: Count }),
      Type.Object({ kind: Type.Literal('hot'), since: Count }),
    ]),
  ),
  charge: Charge,
  hotHoursBefore: Count,
  earlierCharges: Type.Optional(
    Type.Array(
      Type.Object({
        act: Type.String(),
        toldAt: Count,
        wax: Type.Enum([...WAX_CLASS_IDS]),
        charge: Charge,
        hotHoursBefore: Count,
      }),
    ),
  ),
  plannedOff: Type.Boolean(),
  plannedOnAt: Nullable(Count),
  load: Nullable(
    Type.Object({
      load: Type.String(),
      since: Count,
      soakedMinutes: Count,
      soak: Nullable(Soak),
      softAt: Nullable(Count),
      takenOutAt: Nullable(Count),
      lastAt: Count,
    }),
  ),
  warmUp: Nullable(Type.Object({ seconds: Count, usualSeconds: Count, learned: Count })),
  night: Nullable(Type.Object({ low: Count, high: Count, from: Count, endedAt: Nullable(Count) })),
  learned: Type.Record(Type.String(), Type.Object({ hour: Count, worst: Count })),
  rules: Conditions,
});

const Heat = {
  relaxation: numbersOf<RelaxationState>('reducedSeconds', 'at', 'celsius', 'readings', 'refused'),
  mkt: numbersOf<MktState>('activationEnergy', 'longestGap', 'weightedSeconds', 'seconds', 'at', 'celsius'),
  rainflow: Type.Unsafe<RainflowState>(
    Type.Object({
      points: Type.Array(Count),
      last: Count,
      direction: Count,
      values: Count,
      countsEnds: Type.Boolean(),
    }),
  ),
  swings: Count,
  largestSwing: Count,
  minutesTooWarm: Count,
};
const Pattern = Type.Object({ ...Heat, rules: Conditions });
/** As the second layout had it: what it went through summed up, without its temperatures. */
const SummedPattern = Type.Object({ ...Heat, conditions: Type.Unsafe<PresentConditions>(Conditions) });

const Gateway = Type.Object({
  online: Nullable(Type.Boolean()),
  changedAt: Nullable(Count),
  heardAt: Nullable(Count),
  backAt: Nullable(Count),
  rules: Conditions,
});

const Alarms = Type.Record(
  Type.String(),
  Type.Unsafe<Alarm>(
    Type.Object({
      id: Type.String(),
      rule: Type.Enum([...RULE_KINDS]),
      subject: Type.String(),
      subjectKind: Type.Enum(['station', 'probe', 'gateway', 'pattern', 'site']),
      priority: Type.Enum([...PRIORITIES]),
      active: Type.Boolean(),
      acknowledged: Type.Boolean(),
      latches: Type.Boolean(),
      latched: Type.Boolean(),
      shelvedUntil: Nullable(Count),
      suppressedBy: Nullable(Type.String()),
      outOfService: Type.Boolean(),
      count: Count,
      tense: Tense,
      raisedAt: Count,
      clearedAt: Nullable(Count),
      acknowledgedAt: Nullable(Count),
      acknowledgedBy: Nullable(Type.String()),
      evidence: Evidence,
    }),
  ),
);

export type EarlierConditions = Static<typeof Conditions>;
export type EarlierProbe = Static<typeof Probe>;
export type EarlierStation = Static<typeof Station>;
export type EarlierPattern = Static<typeof Pattern>;
export type SummedPattern = Static<typeof SummedPattern>;
export type EarlierGateway = Static<typeof Gateway>;
export type EarlierAlarms = Static<typeof Alarms>;

/** What a part was, by the beginning of its key up to the colon. */
export const EARLIER_PARTS = {
  station: Compile(Station),
  past: Compile(Type.Array(Stretch)),
  gateway: Compile(Gateway),
  pattern: Compile(Pattern),
  alarms: Compile(Alarms),
  clock: Compile(Type.Object({ now: Count, awakeAt: Count })),
  site: Compile(Type.Record(Type.String(), Conditions)),
};

/** Of the second layout only patterns were different. */
export const isSummedPattern = Compile(SummedPattern);
