import { beforeEach, describe, expect, it } from 'vitest';
import type { Entry } from '../../lab/entry.ts';
import type { Lab } from '../../lab/lab.ts';
import { celsius, epochMillis } from '../../wax/units.ts';
import { type QualifyState, seenProbes } from './probe-record.ts';
import { qualify } from './qualify.ts';
import { MOST_GATEWAYS, MOST_UNCLAIMED, MOST_UNCLAIMED_OF_GATEWAY } from './unclaimed-limit.ts';

const START = Date.UTC(2026, 5, 1, 8);
const DAY_SECONDS = 86_400;
const LAB: Lab = {
  site: {
    id: 'lab-1',
    name: 'Lab',
    timeZone: 'Europe/Berlin',
    holidays: [],
    workingHours: { mon: [], tue: [], wed: [], thu: [], fri: [], sat: [], sun: [] },
  },
  stations: [],
  charges: [],
  patterns: [],
  people: [],
  waxOverrides: {},
  probes: [{ id: 'ours', gateway: 'gw-1', station: null, correction_celsius: 0, uncertainty_celsius: 0.5 }],
};

let parts: QualifyState;
beforeEach(() => {
  parts = {};
});
const step = (entry: Entry, lab = LAB) => {
  parts = { ...parts };
  return qualify(parts, entry, lab, () => null);
};
const readings = (gateway: string, probes: readonly string[], second: number): Entry => {
  const at = epochMillis(START + second * 1000);
  return {
    kind: 'readings',
    receivedAt: at,
    gateway,
    readings: probes.map((probe) => ({ probe, at, celsius: celsius(61), quality: 'good' })),
  } as const;
};
const names = (prefix: string, count: number): readonly string[] =>
  Array.from({ length: count }, (_, index) => `${prefix}-${index}`);
const seen = (): readonly string[] => seenProbes(parts).map(({ id }) => id);

describe('probes that wait to be claimed', () => {
  it('are taken up to the limit of their gateway, in one message or in many; what is above is refused by one code', () => {
    const { rejections } = step(readings('gw-1', names('a', MOST_UNCLAIMED_OF_GATEWAY + 50), 0));
    expect(seen()).toHaveLength(MOST_UNCLAIMED_OF_GATEWAY);
    expect(rejections).toHaveLength(50);
    expect(new Set(rejections.map(({ code, topic }) => `${code} ${topic}`))).toEqual(
      new Set(['too-many-unclaimed wax/lab-1/gw-1']),
    );
    expect(step(readings('gw-1', ['one-more'], 10)).rejections).toHaveLength(1);
  });

  it('that were taken go on, and a probe of the lab is always taken', () => {
    step(readings('gw-1', names('a', MOST_UNCLAIMED_OF_GATEWAY), 0));
    const { entry, rejections } = step(readings('gw-1', ['a-3', 'ours', 'b'], 10));
    expect(entry).toMatchObject({ readings: [{ probe: 'a-3' }, { probe: 'ours' }] });
    expect(rejections).toHaveLength(1);
  });

  it('that a person removes are gone and make room, until they send again', () => {
    step(readings('gw-1', names('a', MOST_UNCLAIMED_OF_GATEWAY), 0));
    const receivedAt = epochMillis(START + 10_000);
    const act = { type: 'probes-forgotten', by: 'Mara', probes: ['a-3', 'a-4', 'never-seen'] } as const;
    expect(step({ kind: 'act', receivedAt, act }).changedParts).toEqual(['probe/a-3', 'probe/a-4']);
    expect(seen()).not.toContain('a-3');
    expect(step(readings('gw-1', ['a-3', 'b'], 20)).rejections).toEqual([]);
    expect(seen()).toContain('a-3');
  });

  it('leave room for other gateways, up to the limit of the lab', () => {
    for (let gateway = 0; gateway < 10; gateway += 1)
      step(readings(`gw-${gateway}`, names(`g${gateway}`, MOST_UNCLAIMED_OF_GATEWAY), gateway));
    expect(seen()).toHaveLength(MOST_UNCLAIMED);
  });

  it('make room when they are claimed', () => {
    step(readings('gw-1', names('a', MOST_UNCLAIMED_OF_GATEWAY), 0));
    const claimed = {
      id: 'a-0',
      gateway: 'gw-1',
      station: null,
      correction_celsius: 0,
      uncertainty_celsius: 0.5,
    };
    const lab = { ...LAB, probes: [...LAB.probes, claimed] };
    expect(step(readings('gw-1', ['one-more', 'two-more'], 10), lab).rejections).toHaveLength(1);
  });

  it('are forgotten after a month of silence, and those of the lab are not', () => {
    step(readings('gw-1', ['a', 'ours'], 0));
    step(readings('gw-1', ['b'], 20 * DAY_SECONDS));
    const tick = (second: number) =>
      step({ kind: 'tick', receivedAt: epochMillis(START + second * 1000) }).changedParts;
    tick(30 * DAY_SECONDS);
    expect(seen()).toEqual(['a', 'ours', 'b']);
    expect(tick(30 * DAY_SECONDS + 7200)).toContain('probe/a');
    expect(seen()).toEqual(['ours', 'b']);
    expect(tick(30 * DAY_SECONDS + 7260)).toEqual([]);
  });
});

describe('gateways that report their state', () => {
  it('are noted up to a limit, and those that are noted go on', () => {
    const state = (gateway: string, online: boolean) =>
      step({ kind: 'gateway', receivedAt: epochMillis(START), gateway, online });
    for (const gateway of names('gw', MOST_GATEWAYS)) state(gateway, true);
    expect(state('one-more', true)).toMatchObject({
      entry: null,
      rejections: [{ code: 'too-many-gateways' }],
    });
    expect(state('gw-7', false)).toMatchObject({ entry: { online: false }, rejections: [] });
  });
});
