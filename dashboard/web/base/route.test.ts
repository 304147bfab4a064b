import { describe, expect, it } from 'vitest';
import { routeOf, safeReturn } from './route.ts';

describe('addresses', () => {
  it.each([
    ['/', 'home'],
    ['/wall', 'wall'],
    ['/wall/', 'wall'],
    ['/alarms', 'alarms'],
    ['/sign-in', 'sign-in'],
    ['/wall/2', 'nowhere'],
    ['/attic', 'nowhere'],
    ['/station', 'nowhere'],
    ['/patterns/new', 'patterns/new'],
    ['/p/7KQ2M', 'pattern'],
    ['/s/dip-pot', 'station-work'],
    ['/p', 'nowhere'],
  ])('%s leads to %s', (path, screen) => {
    expect(routeOf(path).screen).toBe(screen);
  });
  it('name a station by its id', () => {
    expect(routeOf('/station/dip-pot%20left')).toEqual({ screen: 'station', station: 'dip-pot left' });
  });
  it('that are broken lead nowhere, not into a blank page', () => {
    expect(routeOf('/station/%E0%A4%A')).toEqual({ screen: 'nowhere' });
  });
});

describe('the way back after signing in', () => {
  it('is kept when it is a path of this place', () => {
    expect(safeReturn('/station/dip-left?span=day')).toBe('/station/dip-left?span=day');
  });
  it.each([null, '', 'https://elsewhere.example', '//elsewhere.example', '/\\elsewhere.example', '/sign-in'])(
    'is the lab when %s was asked',
    (asked) => {
      expect(safeReturn(asked)).toBe('/');
    },
  );
});
