import { describe, expect, it } from 'vitest';
import { kindInWords, waxInWords } from './words.ts';

describe('words for a kind of station', () => {
  it.each([
    ['melting pot', 'melt-pot'],
    ['Wax pot', 'melt-pot'],
    ['dipping pot', 'dip-pot'],
    ['annealer', 'annealer'],
    ['softening cabinet', 'annealer'],
    ['water bath', 'water-bath'],
    ['infrared lamp', 'lamp'],
    ['storage cabinet', 'cabinet'],
    ['storage shelf', 'shelf'],
    ['storage room', 'room'],
    ['room', 'room'],
    ['burnout furnace', null],
    ['ultrasonic cleaner', undefined],
  ])('"%s" mean %s', (words, kind) => {
    expect(kindInWords(words)).toBe(kind);
  });
});

describe('words for a wax', () => {
  it.each([
    ['sticky wax', 'melt-pot', 'sticky'],
    ['inlay wax', 'melt-pot', 'inlay-type-2'],
    ['inlay wax, type 1', 'melt-pot', 'inlay-type-1'],
    ['inlay wax type II', 'annealer', 'inlay-type-2'],
    ['inlay wax', 'dip-pot', 'inlay-dip'],
    ['dipping wax', 'melt-pot', 'inlay-dip'],
    ['baseplate wax', 'water-bath', 'baseplate-hard'],
    ['soft baseplate wax', 'water-bath', 'baseplate-soft'],
    ['extra-hard base plate wax', 'water-bath', 'baseplate-extra-hard'],
    ['modelling wax', 'lamp', 'baseplate-hard'],
    ['casting sheet', 'annealer', 'casting-thinner-flow'],
    ['paraffin', 'melt-pot', 'paraffin'],
    ['bite registration wax', 'water-bath', 'bite-registration'],
    ['microcrystalline blend', 'melt-pot', 'microcrystalline'],
    ['finished wax patterns waiting to be invested', 'shelf', 'inlay-type-2'],
    ['', 'room', null],
  ] as const)('"%s" in a %s mean %s', (words, kind, wax) => {
    expect(waxInWords(words, kind)).toBe(wax);
  });
});
