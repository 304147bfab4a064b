import { describe, expect, it } from 'vitest';
import { demoSite, pastFaults, storyFaults, storySwitchedOn } from './demo-story.ts';
import { DEMO_GATEWAYS, DEMO_PROBES, DEMO_STATIONS } from './lab/demo-lab.ts';
import { labSimulation } from './lab/lab-simulation.ts';
import { dayOf, type SimulatedSite } from './lab/site-hours.ts';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const MINUTE = 60_000;
const span = [
  ['07:30', '12:00'],
  ['12:45', '17:30'],
] as const;
const SITE: SimulatedSite = {
  id: 'test',
  timeZone: 'Europe/Berlin',
  workingHours: { mon: span, tue: span, wed: span, thu: span, fri: [['07:30', '14:30']], sat: [], sun: [] },
  holidays: ['2026-12-25'],
};
/** Every hour of a week that has a holiday in the file, with odd minutes. */
const STARTS = Array.from({ length: 168 }, (_, hour) => Date.UTC(2026, 11, 20) + hour * HOUR + 37.4 * MINUTE);

describe('the clock of the demonstration', () => {
  it.each([0, 24, 48, 72, 96, 120, 144])(
    'the lab has just opened whenever it is started, hours %i on',
    (first) => {
      for (const now of STARTS.slice(first, first + 24)) {
        const { work } = dayOf(demoSite(SITE, now), now);
        const sinceOpening = now - (work?.opens ?? 0);
        expect(sinceOpening).toBeGreaterThanOrEqual(15 * MINUTE);
        expect(sinceOpening).toBeLessThan(21 * MINUTE);
        expect((work?.closes ?? 0) - now).toBeGreaterThan(5 * HOUR);
      }
    },
  );

  it('the past week has two free days in a row', () => {
    for (const now of STARTS) {
      const site = demoSite(SITE, now);
      const free = [6, 5, 4, 3, 2, 1].map((back) => dayOf(site, now - back * DAY).work === null);
      expect(free.filter(Boolean).length).toBe(2);
      expect(free.some((is, index) => is && free[index + 1] === true)).toBe(true);
    }
  });

  it('the faults of the past lie in the past and on days as they are meant', () => {
    for (const now of STARTS) {
      const faults = pastFaults(demoSite(SITE, now), now);
      expect(new Set(faults.map(({ kind }) => kind))).toEqual(
        new Set(['thermostat-stuck-on', 'set-point-shifted', 'gateway-dead', 'window-open', 'left-on']),
      );
      for (const fault of faults)
        if (fault.kind !== 'set-point-shifted' && fault.kind !== 'thermostat-stuck-on') {
          expect(fault.to).toBeLessThan(now);
          expect(fault.from).toBeGreaterThan(now - 7 * DAY);
        }
    }
  });
});

describe('the story of the demonstration', () => {
  it.each([3, 8, 20, 60])(
    'the dip pot warms over its ceiling 175 s after the start of the simulation, also when the past took %i s of it',
    (took) => {
      for (const now of [STARTS[3], STARTS[80], STARTS[150]]) {
        if (now === undefined) continue;
        const site = demoSite(SITE, now);
        const simulation = labSimulation({
          site,
          stations: DEMO_STATIONS,
          probes: DEMO_PROBES,
          gateways: DEMO_GATEWAYS,
          seed: 7,
          from: dayOf(site, now).start,
        });
        simulation.setSwitchedOn(now, storySwitchedOn(now));
        simulation.addFaults(pastFaults(site, now));
        const begins = now + took * 1000;
        simulation.addFaults(storyFaults(begins));
        simulation.advance(begins, () => DAY);
        const dip = simulation
          .advance(begins + 30 * MINUTE, () => 2000)
          .filter(({ probe }) => probe === 'dip-wax')
          .map(({ at, celsius }) => ({ seconds: (at - begins) / 1000, celsius }));
        const over = dip.find(({ celsius }) => celsius > 100)?.seconds ?? Number.POSITIVE_INFINITY;
        const leavesWindow = dip.find(({ celsius }) => celsius > 95)?.seconds ?? Number.POSITIVE_INFINITY;
        expect(dip[0]?.celsius).toBeLessThan(96);
        expect(Math.abs(over - (175 - took))).toBeLessThan(10);
        expect(over - leavesWindow).toBeGreaterThan(100);
        expect(Math.max(...dip.map(({ celsius }) => celsius))).toBeLessThan(110);
        expect(dip.find(({ seconds, celsius }) => seconds > 330 && celsius < 97)?.seconds).toBeLessThan(600);
        expect(dip.at(-1)?.celsius).toBeGreaterThan(85);
        expect(dip.at(-1)?.celsius).toBeLessThan(95.5);
      }
    },
  );
});
