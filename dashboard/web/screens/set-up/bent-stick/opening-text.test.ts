import { describe, expect, it } from 'vitest';
import { numberIn, openingsIn } from './opening-text.ts';

describe('readings of a stick', () => {
  it.each([
    ['0.5 1.2\n24 3.9', 'spaces'],
    ['0,5\t1,2\n24\t3,9\n', 'tabs and decimal commas, as pasted from a sheet'],
    ['0.5; 1.2\n\n 24;3.9 ', 'semicolons and an empty line'],
  ])('%j are two readings: %s', (text) => {
    expect(openingsIn(text)).toEqual({
      ok: true,
      openings: [
        { hours: 0.5, millimetres: 1.2 },
        { hours: 24, millimetres: 3.9 },
      ],
    });
  });
  it.each([
    ['1 2\nnoon 3', 2],
    ['1 2 3', 1],
    ['1 2\n\n4', 3],
    ['1 1e400', 1],
  ])('%j is refused at line %d', (text, line) => {
    expect(openingsIn(text)).toEqual({ ok: false, line });
  });
  it('may be none yet', () => {
    expect(openingsIn(' \n')).toEqual({ ok: true, openings: [] });
  });
});

describe('a number', () => {
  it.each([
    ['20', 20],
    ['-4,5', -4.5],
    ['−4.5', -4.5],
    ['', null],
    ['Infinity', null],
    ['1.2.3', null],
  ])('%j is %j', (text, value) => {
    expect(numberIn(text)).toBe(value);
  });
});
