import { describe, expect, it } from 'vitest';
import { numberMessages, senmlMessage, stateMessage } from './wire-format.ts';

const readings = [
  { probe: 'cabinet-upper', at: 1_795_617_360_000, celsius: 20.0625 },
  { probe: 'shelf-air', at: 1_795_617_362_500, celsius: -0.5 },
];

describe('what a simulated gateway sends', () => {
  it('a plain number goes to the topic of its probe', () => {
    expect(numberMessages('s', 'g', readings)[1]).toEqual({
      topic: 'wax/s/g/shelf-air/celsius',
      payload: '-0.5',
      retain: false,
    });
  });

  it('a pack resolves to absolute instants and full names', () => {
    const { topic, payload } = senmlMessage('s', 'g', readings);
    expect(topic).toBe('wax/s/g/senml');
    expect(JSON.parse(payload)).toEqual([
      { bn: 'urn:dev:org:s:g:', bt: 1_795_617_360, bu: 'Cel', n: 'cabinet-upper', v: 20.0625, t: 0 },
      { n: 'shelf-air', v: -0.5, t: 2.5 },
    ]);
  });

  it('the state is retained', () => {
    expect(stateMessage('s', 'g', 'offline')).toEqual({
      topic: 'wax/s/g/state',
      payload: 'offline',
      retain: true,
    });
  });
});
