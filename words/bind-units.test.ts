import { describe, expect, it } from 'vitest';
import { bindUnits } from './bind-units.ts';

describe('a number before its unit', () => {
  it.each([
    ['96.4 °C now', '96.4\u00a0°C now'],
    ['19,8 – 21,6 °C', '19,8 – 21,6\u00a0°C'],
    ['0 µm to 12 µm', '0\u00a0µm to 12\u00a0µm'],
    ['2 h 5 min', '2\u00a0h 5\u00a0min'],
    ['vor 12 min gemessen', 'vor 12\u00a0min gemessen'],
    ['30 %', '30\u00a0%'],
    ['14 days', '14\u00a0days'],
  ])('is bound to it in “%s”', (text, bound) => {
    expect(bindUnits(text)).toBe(bound);
  });

  it.each([
    'Pot 2 heats',
    'bench 1 and 2',
    'AB-1039 man',
    'since 07:32 so far',
    '3 alarms',
    'no number',
    '26 mmx',
  ])('is not seen in “%s”', (text) => {
    expect(bindUnits(text)).toBe(text);
  });
});
