import { describe, expect, it } from 'vitest';
import { alarmView } from '../../../tests/alarm-view-for-tests.ts';
import { labStanding } from './lab-standing.ts';

const seen = { isLineLost: false, isPartFailing: false, stations: ['live', 'live'] as const, alarms: [] };

describe('the standing of the lab', () => {
  it('is that all is in order only with live data from every station and no open alarm', () => {
    expect(labStanding(seen).kind).toBe('in-order');
  });
  it.each([
    ['a station was never measured', { stations: ['live', 'never'] as const }, 'without-data'],
    ['a station is silent', { stations: ['silent', 'live'] as const }, 'without-data'],
    ['there is no station', { stations: [] }, 'no-stations'],
    ['the line is lost', { isLineLost: true }, 'lost'],
    ['a part of the program is failing', { isPartFailing: true }, 'part-failing'],
    ['an alarm is open', { alarms: [alarmView({})] }, 'alarms'],
    ['an acknowledged alarm is not over', { alarms: [alarmView({ acknowledged: true })] }, 'acknowledged'],
    ['an alarm is over and nobody confirmed it', { alarms: [alarmView({ active: false })] }, 'past'],
    ['an alarm was learned of afterwards', { alarms: [alarmView({ tense: 'learned' })] }, 'past'],
    ['an alarm is shelved', { alarms: [alarmView({ stateCode: 'G' })] }, 'shelved'],
  ])('is something else when %s', (_, change, kind) => {
    expect(labStanding({ ...seen, ...change }).kind).toBe(kind);
  });
  it('names an alarm before silence, and of silence before acknowledged alarms', () => {
    const stations = ['silent', 'never'] as const;
    expect(labStanding({ ...seen, stations, alarms: [alarmView({})] })).toMatchObject({
      kind: 'alarms',
      silent: 1,
      never: 1,
    });
    expect(labStanding({ ...seen, stations, alarms: [alarmView({ acknowledged: true })] }).kind).toBe(
      'without-data',
    );
  });
  it('does not count a notice, by which nobody need act', () => {
    expect(labStanding({ ...seen, alarms: [alarmView({ priority: 'notice' })] }).kind).toBe('in-order');
  });
});
