import { describe, expect, it } from 'vitest';
import { offeredActs } from './offered-acts.ts';

const alarm = { stateCode: 'B', acknowledged: false, latched: false, active: true };

describe('the acts that an alarm offers', () => {
  it.each([
    ['unacknowledged', alarm, ['acknowledge', 'shelve']],
    ['acknowledged and active', { ...alarm, stateCode: 'C', acknowledged: true }, ['shelve']],
    ['over and not acknowledged', { ...alarm, stateCode: 'D', active: false }, ['acknowledge', 'shelve']],
    [
      'latched, over and acknowledged',
      { ...alarm, stateCode: 'E', acknowledged: true, latched: true, active: false },
      ['reset', 'shelve'],
    ],
    ['shelved', { ...alarm, stateCode: 'G' }, ['unshelve']],
    ['suppressed', { ...alarm, stateCode: 'H' }, ['shelve']],
    ['out of service', { ...alarm, stateCode: 'I' }, ['return-to-service']],
    ['back to normal', { ...alarm, stateCode: 'A', acknowledged: true, active: false }, []],
  ])('are those that its state allows: %s', (_, state, acts) => {
    expect(offeredActs(state)).toEqual(acts);
  });
});
