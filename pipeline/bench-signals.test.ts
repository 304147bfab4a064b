import { describe, expect, it } from 'vitest';
import type { Alarm } from '../alerts/watch/life/alarm.ts';
import { celsius, epochMillis } from '../wax/units.ts';
import { alarmSignal, stationSignal } from './bench-signals.ts';

const alarm = (facts: Partial<Alarm>): Alarm => ({
  id: 'pot.over-ceiling.1',
  rule: 'over-ceiling',
  subject: 'pot',
  subjectKind: 'station',
  priority: 'high',
  active: true,
  acknowledged: false,
  latches: false,
  latched: false,
  shelvedUntil: null,
  suppressedBy: null,
  outOfService: false,
  count: 1,
  tense: 'now',
  raisedAt: epochMillis(1000),
  clearedAt: null,
  acknowledgedAt: null,
  acknowledgedBy: null,
  evidence: {},
  ...facts,
});
const read = (...open: Alarm[]) => JSON.parse(alarmSignal('lab', 'pot', open).payload);

describe('the signal for a lamp or buzzer', () => {
  it('goes to the topic of its site and station', () => {
    expect(alarmSignal('lab', 'pot', []).topic).toBe('wax/lab/alarm/pot');
  });

  it('is silent and dark without an alarm', () => {
    expect(read()).toEqual({ open: 0, sound: false, priority: null, rule: null, id: null, raised_at: null });
  });

  it('sounds until somebody acknowledges', () => {
    expect(read(alarm({})).sound).toBe(true);
    expect(read(alarm({ acknowledged: true }))).toMatchObject({ sound: false, open: 1 });
  });

  it('goes on sounding for a latched alarm whose condition is over, and not for one that merely returned', () => {
    expect(read(alarm({ active: false, latched: true })).sound).toBe(true);
    expect(read(alarm({ active: false })).sound).toBe(false);
  });

  it('signals the unacknowledged alarm before the acknowledged one, then the more urgent', () => {
    const seen = alarm({ id: 'seen', priority: 'urgent', acknowledged: true });
    const low = alarm({ id: 'low', priority: 'low' });
    const high = alarm({ id: 'high', priority: 'high' });
    expect(read(seen, low, high)).toMatchObject({ id: 'high', open: 3 });
  });

  it('leaves out what is shelved, suppressed, out of service or of another station', () => {
    const hidden = [
      alarm({ shelvedUntil: epochMillis(9) }),
      alarm({ suppressedBy: 'planned-off' }),
      alarm({ outOfService: true }),
      alarm({ subject: 'bath' }),
    ];
    expect(read(...hidden).open).toBe(0);
  });
});

describe('the signal of a station', () => {
  it('shows its state and when that was measured', () => {
    const { topic, payload } = stationSignal('lab', {
      station: 'pot',
      condition: 'heading-over',
      celsius: celsius(96.5),
      at: epochMillis(0),
      celsiusPerHour: 30,
      minutesToCeiling: 7,
      doseShare: null,
      doseEquivalentHours: null,
      swingCelsius: null,
    });
    expect(topic).toBe('wax/lab/station/pot');
    expect(JSON.parse(payload)).toEqual({
      condition: 'heading-over',
      celsius: 96.5,
      measured_at: '1970-01-01T00:00:00.000Z',
      minutes_to_ceiling: 7,
    });
  });
});
