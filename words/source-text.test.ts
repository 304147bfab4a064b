import { describe, expect, it } from 'vitest';
import { labsOwn, published } from '../wax/classes/wax-value.ts';
import { sayTo } from './load-languages.ts';
import type { MessageKey } from './message-key.ts';
import { sourceInEnglish } from './source-in-english.ts';
import { sourceText } from './source-text.ts';

const german = sayTo({ language: 'de', temperatureUnit: 'fahrenheit', hourCycle: 'h23' }, 'Europe/Berlin');

describe('the source of a figure', () => {
  it('is worded by its code, with its values in the unit of the reader', () => {
    const { source } = published(307e-6, 'craig-1965-span', { from_celsius: 20, to_celsius: 28 });
    expect(sourceInEnglish(source)).toBe(
      '20.0 °C to 28.0 °C, Craig, Eick and Peyton, J Dent Res 44:1300, 1965',
    );
    expect(sourceText(source, (key, values) => german(key as MessageKey, values), String)).toBe(
      '68,0 °F bis 82,4 °F, Craig, Eick and Peyton, J Dent Res 44:1300, 1965',
    );
  });

  it("of a lab's own value names the value that it replaces, with that one's standing and source", () => {
    const catalogued = published(80, 'pot-maximum-range', { low_celsius: 75, high_celsius: 80 });
    const own = labsOwn(85, catalogued);
    expect(sourceInEnglish(own.source)).toBe(
      'instead of 80 (published: sensible pot maximum 75.0 °C to 80.0 °C; usual in the dental laboratory)',
    );
    expect(sourceInEnglish(labsOwn(82, own).source)).toBe("instead of 85 (lab's own value: set by the lab)");
  });
});
