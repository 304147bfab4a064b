import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Value } from 'typebox/value';
import { GROUP_MESSAGES } from '../../../lab/group/group-message.ts';
import { dayAt } from '../../../lab/calendar.ts';
import { type LabForTests, labForTests } from '../../../tests/lab-for-tests.ts';
import { celsius, epochMillis } from '../../../wax/units.ts';
import { gatherDay } from './gather-day.ts';

/** The night in which Berlin's clocks go forward lies in it. */
const SPRING = Date.parse('2031-03-30T12:00:00Z');
const STEP = 5 * 60_000;
const MINUTES_PER_HOUR = 60;

describe('the figures of one day', () => {
  let lab: LabForTests;
  beforeEach(() => {
    lab = labForTests();
    const probe = { id: 'shelf-air', gateway: 'gw-1', station: 'shelf-1' };
    lab.running.repository.saveProbe({ ...probe, correction_celsius: 0, uncertainty_celsius: 0.2 });
  });
  afterEach(() => lab.close());

  const day = dayAt({ timeZone: 'Europe/Berlin' } as never, SPRING);
  const measure = async (probe: string, valueAt: (hour: number) => number | null): Promise<void> => {
    const readings = [];
    for (let at: number = day.from; at < day.to; at += STEP) {
      const value = valueAt((at - day.from) / 3_600_000);
      if (value !== null)
        readings.push({ probe, at: epochMillis(at), celsius: celsius(value), quality: 'good' as const });
    }
    const { store } = lab.running;
    await store.apply({ readings, ruleState: {}, alongside: [], offset: store.offset() + 1 });
  };

  it('have the minutes and the largest swing of a place over a day of 23 hours, without the hours that nobody measured', async () => {
    await measure('shelf-air', (hour) => (hour < 3 ? null : hour < 13 ? 18 : 22));
    const { places } = await gatherDay(lab.running, day.from, day.to);
    expect(places).toHaveLength(1);
    expect(places[0]).toMatchObject({ station: 'shelf-1', largest_swing_celsius: 4 });
    expect(places[0]?.measured_minutes).toBeCloseTo(20 * MINUTES_PER_HOUR, -1);
    expect(places[0]?.outside_minutes).toBe(0);
  });

  it('count the time over the limit that held in that day', async () => {
    await measure('shelf-air', (hour) => (hour < 10 ? 20 : 45));
    const { places } = await gatherDay(lab.running, day.from, day.to);
    expect(places[0]?.outside_minutes).toBeCloseTo(13 * MINUTES_PER_HOUR, -1);
  });

  it('have hours and dose of a pot, more of it the hotter it was', async () => {
    await measure('pot-1-a', (hour) => (hour < 12 ? 21 : 75));
    const { heaters } = await gatherDay(lab.running, day.from, day.to);
    expect(heaters.map(({ station }) => station)).toEqual(['pot-1']);
    expect(heaters[0]?.hot_minutes).toBeCloseTo(11 * MINUTES_PER_HOUR, -1);
    await lab.close();
    lab = labForTests();
    await measure('pot-1-a', (hour) => (hour < 12 ? 21 : 85));
    const hot = await gatherDay(lab.running, day.from, day.to);
    expect(hot.heaters[0]?.dose_hours).toBeGreaterThan(heaters[0]?.dose_hours ?? Infinity);
  });

  it('keep the contract with the group where nothing was measured', async () => {
    const figures = await gatherDay(lab.running, day.from, day.to);
    const message = { version: 1, site: 'test-lab', offset: 0, sent_at: '2031-03-31T00:10:00Z' };
    expect(Value.Check(GROUP_MESSAGES.day, { ...message, date: day.date, ...figures })).toBe(true);
    expect(figures.places[0]?.measured_minutes).toBe(0);
    expect(figures.heaters[0]).toMatchObject({ measured_minutes: 0, hot_minutes: 0 });
  });

  it('count alarms that needed attention in it', async () => {
    lab.pass((day.from - lab.running.now()) / 1000 + 3600);
    lab.raise('over-ceiling', 'pot-1');
    const { alarms, stations } = await gatherDay(lab.running, day.from, day.to);
    expect(alarms).toEqual({ announced: 1, nuisance: 0 });
    expect(stations).toBe(2);
  });
});
