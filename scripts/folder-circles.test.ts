import { describe, expect, it } from 'vitest';
import { folderCircles } from './folder-circles.mjs';

describe('the check for circles between folders', () => {
  it('names two folders that import each other although their files do not', () => {
    const imports = [
      { from: 'lab/days/closing.ts', to: 'lab/nights/hour.ts' },
      { from: 'lab/nights/night.ts', to: 'lab/days/shift.ts' },
    ];
    expect(folderCircles(imports)).toEqual([['lab/days', 'lab/nights']]);
  });

  it('names a folder and the one around it that import each other', () => {
    const imports = [
      { from: 'lab/days/closing.ts', to: 'lab/shelf.ts' },
      { from: 'lab/calendar.ts', to: 'lab/days/hour.ts' },
    ];
    expect(folderCircles(imports)).toEqual([['lab', 'lab/days']]);
  });

  it('names a circle of outer folders whose inner folders form none', () => {
    const imports = [
      { from: 'lab/days/closing.ts', to: 'wax/heat/dose.ts' },
      { from: 'wax/flow/band.ts', to: 'lab/nights/hour.ts' },
    ];
    expect(folderCircles(imports)).toEqual([['lab', 'wax']]);
  });
});
