import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { TrueFault } from '../../simulators/cases/case.ts';
import { casePlaces } from './case-places.ts';
import type { Beginning } from './run-case.ts';
import { type CaseFacts, scoreCase } from './score-case.ts';

const START = Date.UTC(2026, 2, 2);
const MINUTE = 60_000;
const at = (minutes: number, millis = 0): number => START + minutes * MINUTE + millis;
const iso = (minutes: number): string => new Date(at(minutes)).toISOString();

const probe = (id: string, gateway: string) => ({
  id,
  gateway,
  where: '',
  resolution_kelvin: 0.1,
  seconds: 5,
});
const PLACES = casePlaces(
  [
    { id: 'pot', probes: [probe('pot-p1', 'gw1'), probe('pot-p2', 'gw1')] },
    { id: 'bath', probes: [probe('bath-p1', 'gw1')] },
    { id: 'shelf', probes: [probe('shelf-p1', 'gw2')] },
  ],
  new Map([['crown', 'shelf']]),
);

const fault = (more: Partial<TrueFault> = {}): TrueFault => ({
  station: 'pot',
  fault: 'stuck_on',
  begins: iso(100),
  harm: iso(110),
  ends: iso(200),
  ...more,
});
const alarm = (millis: number, more: Partial<Beginning> = {}): Beginning => ({
  alarm: `a.${millis}`,
  rule: 'over-ceiling',
  subject: 'pot',
  subjectKind: 'station',
  priority: 'high',
  tense: 'now',
  at: millis,
  notifiedAt: millis,
  evidence: {},
  ...more,
});
const DAYS = 4;
const score = (truth: readonly TrueFault[], alarms: readonly Beginning[], more: Partial<CaseFacts> = {}) =>
  scoreCase(
    {
      starts: START,
      ends: START + DAYS * 24 * 60 * MINUTE,
      places: PLACES,
      swingStations: new Set(['shelf']),
      truth,
      ...more,
    },
    alarms,
  );
const ofFault = (truth: TrueFault, ...alarms: readonly Beginning[]) => {
  const [scored] = score([truth], alarms).faults;
  if (scored === undefined) throw new Error('the fault was not scored');
  return scored;
};

describe('a fault', () => {
  it.each([
    ['a millisecond before it begins', at(100, -1), 'never'],
    ['as it begins', at(100), 'found'],
    ['a millisecond before harm', at(110, -1), 'found'],
    ['with harm', at(110), 'late'],
    ['an hour after its end', at(260), 'late'],
    ['a millisecond later than that', at(260, 1), 'never'],
  ] as const)('whose only alarm comes %s counts as it should', (_, millis, outcome) => {
    expect(ofFault(fault(), alarm(millis)).outcome).toBe(outcome);
  });

  it.each([
    ['at once', 105, 105, true],
    ['a millisecond before harm', 105, 110 - 1 / MINUTE, true],
    ['with harm', 105, 110, false],
    ['never', 105, null, false],
    ['of an alarm that began before the fault', 99, 105, false],
  ])('notified %s is notified as it should be', (_, began, notified, isNotified) => {
    const notifiedAt = notified === null ? null : at(notified);
    expect(ofFault(fault(), alarm(at(began), { notifiedAt })).isNotified).toBe(isNotified);
  });

  it('counts as notified when the second alarm in time is the one that reaches the person', () => {
    const scored = ofFault(fault(), alarm(at(102), { notifiedAt: null }), alarm(at(104)));
    expect(scored).toMatchObject({ outcome: 'found', isNotified: true });
  });

  it('has its lead and delay from the first alarm, in minutes', () => {
    const scored = ofFault(fault(), alarm(at(107)), alarm(at(103)));
    expect(scored).toMatchObject({ leadMinutes: 7, delayMinutes: 3 });
  });

  it('found late has a delay and no lead and no cause', () => {
    const scored = ofFault(fault(), alarm(at(120)));
    expect(scored).toMatchObject({ leadMinutes: null, delayMinutes: 20, isRightCause: null });
  });

  it('has the right cause by the first alarm, whatever comes after it', () => {
    const right = alarm(at(103), { rule: 'heading-over' });
    const wrong = alarm(at(103), { rule: 'probe-jump' });
    expect(ofFault(fault(), right, { ...wrong, at: at(104) }).isRightCause).toBe(true);
    expect(ofFault(fault(), wrong, { ...right, at: at(104) }).isRightCause).toBe(false);
  });

  it.each([
    ['at its end', at(200), 'found'],
    ['a millisecond after its end', at(200, 1), 'late'],
  ] as const)('without harm is found by an alarm %s as it should be', (_, millis, outcome) => {
    const scored = ofFault(fault({ harm: null }), alarm(millis));
    expect(scored).toMatchObject({ outcome, leadMinutes: null });
  });

  it('of an unknown name has no right cause', () => {
    expect(ofFault(fault({ fault: 'flooded' }), alarm(at(105))).isRightCause).toBe(false);
  });
});

describe('an alarm counts for a fault', () => {
  const of = (subject: string, subjectKind: Beginning['subjectKind']) =>
    alarm(at(105), { subject, subjectKind });
  it.each([
    ['stuck_on', 'pot', of('pot', 'station'), 'found'],
    ['stuck_on', 'pot', of('pot-p2', 'probe'), 'found'],
    ['stuck_on', 'pot', of('gw1', 'gateway'), 'never'],
    ['stuck_on', 'pot', of('bath', 'station'), 'never'],
    ['stuck_on', 'pot', of('site', 'site'), 'never'],
    ['door_ajar', 'shelf', of('crown', 'pattern'), 'found'],
    ['probe_air', 'pot', of('gw1', 'gateway'), 'found'],
    ['probe_air', 'pot-p1', of('pot', 'station'), 'found'],
    ['probe_air', 'pot', of('bath-p1', 'probe'), 'never'],
    ['gateway_silent', 'pot', of('gw1', 'gateway'), 'found'],
    ['gateway_silent', 'pot', of('gw2', 'gateway'), 'never'],
    ['gateway_silent', 'gw1', of('gw1', 'gateway'), 'found'],
    ['gateway_silent', 'gw1', of('bath-p1', 'probe'), 'found'],
    ['gateway_silent', 'gw1', of('shelf-p1', 'probe'), 'never'],
    ['gateway_silent', 'pot', of('site', 'site'), 'found'],
    ['power_cut_long', 'pot', of('gw2', 'gateway'), 'found'],
    ['clock_behind', 'shelf', of('gw2', 'gateway'), 'found'],
  ] as const)('%s at %s by where it is: %o', (name, station, beginning, outcome) => {
    expect(ofFault(fault({ fault: name, station }), beginning).outcome).toBe(outcome);
  });
});

describe('a nuisance', () => {
  const nuisances = (truth: readonly TrueFault[], beginning: Beginning) =>
    score(truth, [beginning]).nuisances.length;

  it.each([
    ['a millisecond before the fault', at(100, -1), 1],
    ['as the fault begins', at(100), 0],
    ['an hour after it', at(260), 0],
    ['a millisecond later', at(260, 1), 1],
  ])('is an alarm %s, or is none', (_, millis, count) => {
    expect(nuisances([fault()], alarm(millis))).toBe(count);
  });

  it.each([
    ['24 hours', 200 + 24 * 60, 0, 0],
    ['a millisecond more', 200 + 24 * 60, 1, 1],
  ])('where a swing over a day is judged counts from %s after the fault on', (_, minutes, millis, count) => {
    const ofShelf = alarm(at(minutes, millis), { subject: 'shelf' });
    expect(nuisances([fault({ station: 'shelf', fault: 'door_ajar' })], ofShelf)).toBe(count);
  });

  it('is no alarm that reached nobody', () => {
    expect(nuisances([], alarm(at(5), { notifiedAt: null }))).toBe(0);
    expect(nuisances([], alarm(at(5)))).toBe(1);
  });

  it('is an alarm at another station while one has a fault', () => {
    expect(nuisances([fault()], alarm(at(105), { subject: 'bath' }))).toBe(1);
  });

  it('is none at a station whose gateway has a fault, and is one behind another gateway', () => {
    const silent = fault({ fault: 'gateway_silent' });
    expect(nuisances([silent], alarm(at(105), { subject: 'bath' }))).toBe(0);
    expect(nuisances([silent], alarm(at(105), { subject: 'shelf' }))).toBe(1);
  });

  it('is none anywhere during a power cut', () => {
    expect(nuisances([fault({ fault: 'power_cut_short' })], alarm(at(105), { subject: 'shelf' }))).toBe(0);
  });
});

describe('hours in good order', () => {
  it('are those of every station without its faults and their aftermath', () => {
    const { goodStationHours } = score([fault()], []);
    expect(goodStationHours).toBeCloseTo(3 * DAYS * 24 - (200 - 100 + 60) / 60, 9);
  });

  it('count time that two faults share once', () => {
    const both = score([fault(), fault({ fault: 'running_low', begins: iso(150), ends: iso(220) })], []);
    expect(both.goodStationHours).toBeCloseTo(3 * DAYS * 24 - (220 - 100 + 60) / 60, 9);
  });

  it('end with the case', () => {
    const last = fault({ begins: iso(DAYS * 24 * 60 - 30), ends: iso(DAYS * 24 * 60 + 500) });
    expect(score([last], []).goodStationHours).toBeCloseTo(3 * DAYS * 24 - 0.5, 9);
  });

  it('are never negative and never more than there are', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: -500, max: 7000 }), fc.integer({ min: 0, max: 3000 })), {
          maxLength: 6,
        }),
        (spans) => {
          const truth = spans.map(([from, long]) => fault({ begins: iso(from), ends: iso(from + long) }));
          const { goodStationHours } = score(truth, []);
          expect(goodStationHours).toBeGreaterThanOrEqual(2 * DAYS * 24 - 1e-9);
          expect(goodStationHours).toBeLessThanOrEqual(3 * DAYS * 24 + 1e-9);
        },
      ),
    );
  });
});

describe('chattering', () => {
  const chatters = (millis: readonly number[], more: readonly Partial<Beginning>[] = []) =>
    score(
      [],
      millis.map((moment, index) => alarm(moment, more[index])),
    ).chatters;

  it('is a fourth beginning of one alarm within ten minutes', () => {
    expect(chatters([at(0), at(3), at(6), at(10, -1)])).toEqual([
      { subject: 'pot', rule: 'over-ceiling', from: at(0), beginnings: 4 },
    ]);
  });

  it('is none when the fourth comes ten minutes after the first', () => {
    expect(chatters([at(0), at(3), at(6), at(10)])).toEqual([]);
  });

  it('is no three beginnings, however near', () => {
    expect(chatters([at(0), at(0, 1), at(0, 2)])).toEqual([]);
  });

  it('is none of several alarms together', () => {
    expect(
      chatters([at(0), at(1), at(2), at(3)], [{}, { rule: 'heading-over' }, {}, { subject: 'bath' }]),
    ).toEqual([]);
  });

  it('is counted once for an alarm that goes on with it', () => {
    expect(chatters([0, 1, 2, 3, 4, 5, 6, 7].map((minutes) => at(minutes)))).toHaveLength(1);
  });
});
