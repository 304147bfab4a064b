import { describe, expect, it } from 'vitest';
import { argumentsOf, compileMessage } from './compile-message.ts';
import { type Language, LANGUAGES, messageOf, readLanguages, sayTo } from './load-languages.ts';
import type { Messages } from './messages.ts';
import { mkdtempSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const all = ({ files }: Language): Messages => Object.assign({}, ...Object.values(files));
const language = (code: string): Language => {
  const found = LANGUAGES.get(code);
  if (found === undefined) throw new Error(`There is no folder words/${code}.`);
  return found;
};
const english = all(language('en'));
const languages = [...LANGUAGES.values()];
const translations = languages.filter(({ code }) => code !== 'en');

/** Names that the message is filled in with; empty for one that cannot be read, which a test of its own reports. */
const namesIn = (text: string): readonly string[] => {
  try {
    return [...argumentsOf(text).names].sort();
  } catch {
    return [];
  }
};

describe('a language', () => {
  it.each(languages)('$code writes every message so that it can be read as MessageFormat', (tongue) => {
    const faults = Object.entries(all(tongue)).flatMap(([key, text]) => {
      try {
        compileMessage(text, tongue.locale);
        return [];
      } catch (error) {
        return [`${key}: ${String(error).split('\n')[0]}`];
      }
    });
    expect(faults).toEqual([]);
  });

  it.each(languages)('$code writes no key in two of its files', ({ files }) => {
    const keys = Object.values(files).flatMap((messages) => Object.keys(messages));
    expect(keys.filter((key, index) => keys.indexOf(key) !== index)).toEqual([]);
  });

  it.each(translations)('$code has every message that English has and no other', (tongue) => {
    const own = all(tongue);
    expect({
      missing: Object.keys(english).filter((key) => own[key] === undefined),
      unknown: Object.keys(own).filter((key) => english[key] === undefined),
    }).toEqual({ missing: [], unknown: [] });
  });

  it.each(translations)('$code fills each message in with the values that English uses', (tongue) => {
    const differing = Object.entries(all(tongue)).filter(
      ([key, text]) => namesIn(text).join() !== namesIn(english[key] ?? '').join(),
    );
    expect(differing.map(([key]) => key)).toEqual([]);
  });

  it.each(translations)('$code leaves empty only what English leaves empty', (tongue) => {
    const differing = Object.entries(all(tongue)).filter(
      ([key, text]) => (text.trim() === '') !== (english[key]?.trim() === ''),
    );
    expect(differing.map(([key]) => key)).toEqual([]);
  });
});

describe('a new language', () => {
  it('is one folder: it is read from there, and what it lacks is named by its key', () => {
    const root = mkdtempSync(join(tmpdir(), 'words-'));
    try {
      mkdirSync(join(root, 'nl', 'screens'), { recursive: true });
      writeFileSync(join(root, 'nl', 'language.json'), '{"name":"Nederlands","locale":"nl-NL"}');
      writeFileSync(join(root, 'nl', 'rules.json'), '{"fire-risk":{"name":"Brandgevaar"}}');
      writeFileSync(join(root, 'nl', 'screens', 'daily.json'), '{"form.cancel":"Annuleren"}');
      const dutch = readLanguages(root).get('nl');
      expect(dutch).toMatchObject({ code: 'nl', name: 'Nederlands', locale: 'nl-NL' });
      expect(dutch && all(dutch)).toEqual({
        'rule.fire-risk.name': 'Brandgevaar',
        'form.cancel': 'Annuleren',
      });
    } finally {
      rmSync(root, { recursive: true });
    }
  });
});

describe('a message', () => {
  const reader = { temperatureUnit: 'celsius', hourCycle: 'h23' } as const;

  it('chooses its case by a code with hyphens', () => {
    const message = compileMessage('{certainty, select, may_be {perhaps} other {surely}}', 'en-GB');
    expect(message({ certainty: 'may-be' })).toBe('perhaps');
    expect(message({ certainty: 'over' })).toBe('surely');
  });

  it('keeps the hyphen of a value that is only in the text', () => {
    expect(compileMessage('{place}', 'en-GB')({ place: 'pot-1' })).toBe('pot-1');
  });

  it('shows a dash for a value that is not there', () => {
    expect(compileMessage('{place} since {since_at}', 'en-GB')({ place: 'Pot' })).toBe('Pot since –');
  });

  it('has its quantities in the language and the unit of its reader', () => {
    const values = { place: 'Pot', value_celsius: 101.25, ceiling_celsius: 100 };
    const key = 'rule.over-ceiling.message';
    expect(sayTo({ ...reader, language: 'de' }, 'Europe/Berlin')(key, values)).toContain('101,3 °C');
    const american = { ...reader, language: 'en', temperatureUnit: 'fahrenheit' } as const;
    expect(sayTo(american, 'Europe/Berlin')(key, values)).toContain('214.3 °F');
  });

  it('is English where the language of the reader is not there', () => {
    expect(messageOf('xx', 'rule.fire-risk.name')).toBe(english['rule.fire-risk.name']);
  });

  it('is nothing for a key that no language has', () => {
    expect(messageOf('de', 'rule.no-such-rule.name')).toBeNull();
  });
});
