import { describe, expect, it } from 'vitest';
import { instant, potLab } from '../../../tests/rehearsal.ts';
import type { Lab } from '../../../lab/lab.ts';
import { variantsOf } from '../../../words/compile-message.ts';
import { LANGUAGE_CODES, languageFiles } from '../../../words/load-languages.ts';
import { PLAIN_ENGLISH, type ReaderSettings } from '../../../words/quantity.ts';
import { ALL_RULES, RULE_KINDS } from '../../watch/rules/all-rules.ts';
import { isNotice } from '../../watch/rule/rule.ts';
import { type AlarmFacts, alarmText, suppressionText } from './alarm-text.ts';

const FIELDS = ['name', 'short', 'message', 'meaning', 'detects', 'rationale', 'consequence'] as const;
const GERMAN: ReaderSettings = { ...PLAIN_ENGLISH, language: 'de' };

describe.each(LANGUAGE_CODES)('the words of rules in %s', (language) => {
  const { rules = {}, cautions = {} } = languageFiles(language);

  it.each(RULE_KINDS)('are whole for "%s"', (kind) => {
    const missing = FIELDS.filter((field) => (rules[`rule.${kind}.${field}`] ?? '').trim() === '');
    expect(missing).toEqual([]);
  });

  it.each(ALL_RULES)('have something to be done exactly when "$kind" is no notice', (rule) => {
    const action = rules[`rule.${rule.kind}.action`] ?? '';
    expect(variantsOf(action).every((text) => text !== '')).toBe(!isNotice(rule));
  });

  it('have no two rules with one name', () => {
    const names = RULE_KINDS.map((kind) => rules[`rule.${kind}.name`]);
    expect(new Set(names).size).toBe(RULE_KINDS.length);
  });

  it.each(RULE_KINDS)('name "%s" on the wall in at most 20 letters', (kind) => {
    expect(rules[`rule.${kind}.short`]?.length).toBeLessThanOrEqual(20);
  });

  it.each(ALL_RULES)('show on the wall in at most 25 letters what to do first about "$kind"', (rule) => {
    const brief = rules[`rule.${rule.kind}.brief`];
    expect(brief?.length).toBeLessThanOrEqual(25);
    expect(brief === '').toBe(isNotice(rule));
  });

  it('warn in every alarm about heat', () => {
    for (const kind of ['fire-risk', 'over-ceiling', 'heading-over', 'left-on'])
      expect([cautions['caution.fire'], cautions['caution.hot-wax']]).toContain(
        rules[`rule.${kind}.caution`],
      );
  });
});

describe('the cautions', () => {
  it.each(['caution.fire', 'caution.hot-wax'])(
    '%s forbid water and name the heater’s own cut-out, the maker and the local code',
    (key) => {
      const [english, german] = ['en', 'de'].map((language) => languageFiles(language).cautions?.[key]);
      expect(english).toMatch(/Never put water/);
      expect(english).toMatch(/no safety cut-out.*maker’s instructions.*local/);
      expect(german).toMatch(/Niemals Wasser/);
      expect(german).toMatch(/keine Sicherheitsabschaltung.*Hersteller.*örtliche/);
    },
  );
});

const overCeiling: AlarmFacts = {
  rule: 'over-ceiling',
  subject: 'pot-1',
  subjectKind: 'station',
  tense: 'now',
  raisedAt: instant(0),
  evidence: { value_celsius: 101.25, ceiling_celsius: 100 },
};

const patternOfCase = (caseReference: string): Lab['patterns'][number] => ({
  id: 'K7Q2',
  caseReference,
  wax: 'inlay-type-2',
  technique: 'layered',
  length_millimetres: 12,
  tolerance_micrometres: 60,
  madeAt: new Date(instant(0)).toISOString(),
  madeBy: 'Mara',
  stays: [],
  fate: null,
});

describe('an alarm in words', () => {
  it.each([
    {
      reader: PLAIN_ENGLISH,
      message: 'Dip pot 1 is over its ceiling: it has reached 101.3 °C, ceiling 100.0 °C.',
    },
    {
      reader: GERMAN,
      message: 'Dip pot 1 ist über der Höchsttemperatur: 101,3 °C erreicht, zulässig 100,0 °C.',
    },
    {
      reader: { language: 'en', temperatureUnit: 'fahrenheit', hourCycle: 'h12' } as const,
      message: 'Dip pot 1 is over its ceiling: it has reached 214.3 °F, ceiling 212.0 °F.',
    },
  ])('reads "$message"', ({ reader, message }) => {
    expect(alarmText(overCeiling, potLab(), reader).message).toBe(message);
  });

  it('names a pattern by its case, and by its id when the case was erased', () => {
    const due: AlarmFacts = { ...overCeiling, rule: 'pattern-due', subject: 'K7Q2', subjectKind: 'pattern' };
    const labWithCase = (caseReference: string) => ({
      ...potLab(),
      patterns: [patternOfCase(caseReference)],
    });
    expect(alarmText(due, labWithCase('Case 41'), PLAIN_ENGLISH).message).toMatch(/^Case 41 \(/);
    expect(alarmText(due, labWithCase(''), PLAIN_ENGLISH).message).toMatch(/^K7Q2 \(/);
  });

  it('converts a difference without the zero of the scale', () => {
    const swing: AlarmFacts = {
      ...overCeiling,
      rule: 'night-swing',
      evidence: { swing_celsius_difference: 5, low_celsius: 15, high_celsius: 20 },
    };
    const reader = { language: 'en', temperatureUnit: 'fahrenheit', hourCycle: 'h23' } as const;
    expect(alarmText(swing, potLab(), reader).message).toContain('by 9.0 °F overnight (59.0 °F to 68.0 °F)');
  });

  it('gives instants in the zone of the lab and the clock of the reader', () => {
    const silent: AlarmFacts = {
      ...overCeiling,
      rule: 'probe-silent',
      subject: 'p1',
      subjectKind: 'probe',
      evidence: { newest_at: instant(7 * 3600), value_celsius: 90 },
    };
    expect(alarmText(silent, potLab(), PLAIN_ENGLISH).message).toMatch(
      /^No data from probe p1 \(Dip pot 1\) since .*16:00/,
    );
    const h12 = { language: 'en', temperatureUnit: 'celsius', hourCycle: 'h12' } as const;
    expect(alarmText(silent, potLab(), h12).message).toMatch(/0?4:00.?pm/i);
  });

  it.each([
    ['en', /^Dip pot 1 was over its ceiling from .*09:00.* to .*09:52.*: up to .*Learned afterwards\.$/],
    [
      'de',
      /^Dip pot 1 war von .*09:00.* bis .*09:52.* über der Höchsttemperatur: bis .* bekannt geworden\.$/,
    ],
  ])('words what was so and is over as past, from when to when, in %s', (language, expected) => {
    const past: AlarmFacts = { ...overCeiling, tense: 'learned', clearedAt: instant(52 * 60) };
    const reader = { language, temperatureUnit: 'celsius', hourCycle: 'h23' } as const;
    expect(alarmText(past, potLab(), reader).message).toMatch(expected);
    expect(alarmText(past, potLab(), reader).action).toMatch(/over|vorbei/);
  });

  it('words any other rule as past with its message', () => {
    const silent: AlarmFacts = {
      ...overCeiling,
      tense: 'learned',
      rule: 'left-on',
      clearedAt: instant(52 * 60),
    };
    expect(alarmText(silent, potLab(), PLAIN_ENGLISH).message).toMatch(
      /^From .* to .*, learned afterwards: /,
    );
  });

  it('names the first cause of an alarm that is hidden behind it', () => {
    expect(suppressionText('behind:gateway-lost', 'en')).toBe('follows from “Gateway offline”');
    expect(suppressionText('warm-up', 'de')).toBe('heizt wie erwartet auf');
    expect(suppressionText(null, 'en')).toBe('');
  });
});
