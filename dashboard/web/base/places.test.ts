import { describe, expect, it } from 'vitest';
import { newAddressOf, placeAt, safeReturn } from './places.ts';

describe('an address', () => {
  it.each([
    ['/', 'home'],
    ['/wall', 'wall'],
    ['/wall/', 'wall'],
    ['/alarms', 'alarms'],
    ['/sign-in', 'sign-in'],
    ['/wall/2', 'not-found'],
    ['/attic', 'not-found'],
    ['/station', 'not-found'],
    ['/station/dip-pot%20left', 'station'],
    ['/patterns/new', 'patterns/new'],
    ['/p/7KQ2M', 'pattern'],
    ['/s/dip-pot', 'station-work'],
    ['/p', 'not-found'],
  ])('%s leads to the screen %s', (path, screen) => {
    expect(placeAt(path)).toBe(screen);
  });
  it('that cannot be decoded leads to the screen for addresses that are not found', () => {
    expect(placeAt('/station/%E0%A4%A')).toBe('not-found');
  });
  it.each(['/pocket', '/set-up/telling', '/set-up/post'])('%s of before leads on to a screen', (path) => {
    expect(placeAt(newAddressOf(path) ?? '')).not.toBe('not-found');
    expect(placeAt(path)).toBe('not-found');
  });
  it('of today leads nowhere else', () => {
    expect(newAddressOf('/wall')).toBeNull();
    expect(newAddressOf('constructor')).toBeNull();
  });
});

describe('the way back after signing in', () => {
  it('is kept when it is a path of this site', () => {
    expect(safeReturn('/station/dip-left?span=day')).toBe('/station/dip-left?span=day');
  });
  it.each([
    undefined,
    '',
    'https://elsewhere.example',
    '//elsewhere.example',
    '/\\elsewhere.example',
    '/\t/elsewhere.example',
    '/\n/elsewhere.example',
    '/sign-in',
  ])('is the overview of the lab when %j was asked for', (path) => {
    expect(safeReturn(path)).toBe('/');
  });
});
