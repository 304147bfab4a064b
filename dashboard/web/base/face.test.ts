import { describe, expect, it } from 'vitest';
import { RULE_KINDS } from '../../../alerts/watch/rules/all-rules.ts';
import { STATION_CONDITIONS } from '../../../alerts/watch/engine/station-status.ts';
import { alarmView as alarm } from '../../../tests/alarm-view-for-tests.ts';
import { byUrgency, isSuppressed, stationFace } from './face.ts';

const pot = (condition: string) => ({ id: 'pot', condition });

describe('how a station looks', () => {
  it.each(['cold', 'warming', 'in-window', 'below-window', 'above-window', 'steady'])(
    'is grey when it is %s and nobody is needed',
    (condition) => {
      expect(stationFace(pot(condition), [], true)).toMatchObject({ tone: 'calm', mark: condition });
    },
  );
  it.each(['left-on', 'over-ceiling', 'fire-risk', 'heading-over'])(
    'stands out when it is %s, before any alarm',
    (condition) => {
      expect(stationFace(pot(condition), [], true).tone).not.toBe('calm');
    },
  );
  it('has a face for every condition there is', () => {
    for (const condition of STATION_CONDITIONS)
      expect(stationFace(pot(condition), [], true).mark).toBe(condition);
  });
  it('never shows an old value in the look of a live one', () => {
    expect(stationFace(pot('in-window'), [], false)).toMatchObject({ tone: 'absent', mark: 'no-data' });
  });
  it('does not break on a condition that it does not know', () => {
    expect(stationFace(pot('sublimating'), [], true).mark).toBe('no-data');
  });
  it('takes the worst of its alarms, whatever rule it is', () => {
    for (const rule of RULE_KINDS) {
      const face = stationFace(
        pot('in-window'),
        [alarm({ rule, priority: 'medium' }), alarm({ priority: 'low' })],
        true,
      );
      expect(face).toMatchObject({ tone: 'medium', mark: 'medium', word: { group: 'rule', name: rule } });
    }
  });
  it.each(['G', 'H', 'I'])('stays grey for what is suppressed, state %s', (stateCode) => {
    expect(isSuppressed(alarm({ stateCode }))).toBe(true);
    expect(stationFace(pot('in-window'), [alarm({ stateCode })], true).tone).toBe('calm');
  });
  it('stays grey for a notice and for the alarm of another station', () => {
    const others = [alarm({ priority: 'notice' }), alarm({ station: 'bath' })];
    expect(stationFace(pot('in-window'), others, true).tone).toBe('calm');
  });
  it('marks an acknowledged alarm otherwise than one that nobody saw', () => {
    expect(stationFace(pot('in-window'), [alarm({})], true).attention).toBe('unacknowledged');
    expect(stationFace(pot('in-window'), [alarm({ acknowledged: true })], true).attention).toBe(
      'acknowledged',
    );
  });
  it('shows that the pot is cold or hot when its alarm is acknowledged', () => {
    const face = stationFace(pot('cold'), [alarm({ acknowledged: true })], true);
    expect(face).toMatchObject({ word: { group: 'condition', name: 'cold' }, mark: 'cold' });
    expect(face.alarm?.rule).toBe('over-ceiling');
  });
  it.each([
    ['over', { active: false, clearedAt: '2026-11-25T11:00:00Z' }],
    ['learned of afterwards', { tense: 'learned' }],
  ])('never carries an alarm that is %s as one of now', (_, facts) => {
    const face = stationFace(pot('in-window'), [alarm(facts)], true);
    expect(face).toMatchObject({
      alarm: null,
      attention: 'past',
      tone: 'calm',
      word: { group: 'condition', name: 'in-window' },
    });
    expect(face.past?.rule).toBe('over-ceiling');
  });
});

describe('the order of alarms', () => {
  it('puts what is so now before what is over, and the pot over its ceiling before a silent gateway', () => {
    const list = [
      alarm({ id: 'over', active: false }),
      alarm({ id: 'gateway', station: null, raisedAt: '2026-11-25T12:00:00Z' }),
      alarm({ id: 'pot' }),
    ];
    expect(list.sort(byUrgency).map(({ id }) => id)).toEqual(['pot', 'gateway', 'over']);
  });
  it('puts what nobody saw first, then the worse, then the newer, and last what is suppressed', () => {
    const list = [
      alarm({ id: 'suppressed', stateCode: 'H' }),
      alarm({ id: 'seen', acknowledged: true }),
      alarm({ id: 'low', priority: 'low' }),
      alarm({ id: 'older' }),
      alarm({ id: 'newer', raisedAt: '2026-11-25T11:00:00Z' }),
    ];
    expect(list.sort(byUrgency).map((listed) => listed.id)).toEqual([
      ...['newer', 'older', 'low', 'seen', 'suppressed'],
    ]);
  });
});
