import { describe, expect, it } from 'vitest';
import { instant, potLab } from '../../../tests/rehearsal.ts';
import { ALL_RULES } from '../../watch/rules/all-rules.ts';
import { RULE_KINDS } from '../../watch/rule/rule-kind.ts';
import { isNotice } from '../../watch/rule/rule.ts';
import { alarmText, CATALOGUES, hiddenText, type Told } from './alarm-text.ts';
import { CAUTION_OF, type Worded } from './rule-words.ts';

const texts = (worded: Worded) => (typeof worded === 'string' ? [worded] : Object.values(worded.cases));
const placeholders = (worded: Worded) =>
  texts(worded).map((text) => [...text.matchAll(/\{(\w+)\}/g)].map(([, key]) => key).sort());
const cases = (worded: Worded) =>
  typeof worded === 'string' ? [] : [worded.by, ...Object.keys(worded.cases)];

describe('the catalogues', () => {
  it.each(RULE_KINDS)('say "%s" in both languages with the same placeholders and cases', (kind) => {
    const { en, de } = CATALOGUES;
    for (const part of ['message', 'meaning', 'action'] as const) {
      expect(placeholders(de.rules[kind][part])).toEqual(placeholders(en.rules[kind][part]));
      expect(cases(de.rules[kind][part])).toEqual(cases(en.rules[kind][part]));
    }
    for (const { rules, names } of [en, de]) {
      expect(texts(rules[kind].message).every((text) => text.trim().length > 0)).toBe(true);
      expect(texts(rules[kind].meaning).every((text) => text.trim().length > 0)).toBe(true);
      expect(names[kind]).not.toBe('');
    }
  });

  it.each(ALL_RULES)('ask for something to be done exactly when "$kind" is no notice', (rule) => {
    for (const { rules } of Object.values(CATALOGUES))
      expect(texts(rules[rule.kind].action).every((text) => text !== '')).toBe(!isNotice(rule));
  });

  it('warn in every alarm about heat, never with water, always with the heater’s own cut-out and the local code', () => {
    for (const { kind } of ALL_RULES.filter((rule) =>
      ['fire-risk', 'over-ceiling', 'heading-over', 'left-on'].includes(rule.kind),
    ))
      expect(['fire', 'hot-wax']).toContain(CAUTION_OF[kind]);
    for (const key of ['fire', 'hot-wax'] as const) {
      expect(CATALOGUES.en.cautions[key]).toMatch(/Never put water/);
      expect(CATALOGUES.en.cautions[key]).toMatch(/no safety cut-out.*maker’s instructions.*local/);
      expect(CATALOGUES.de.cautions[key]).toMatch(/Niemals Wasser/);
      expect(CATALOGUES.de.cautions[key]).toMatch(/keine Sicherheitsabschaltung.*Hersteller.*örtliche/);
    }
  });
});

const told: Told = {
  rule: 'over-ceiling',
  subject: 'pot-1',
  subjectKind: 'station',
  tense: 'now',
  raisedAt: instant(0),
  evidence: { value_celsius: 101.25, ceiling_celsius: 100 },
};

describe('an alarm in words', () => {
  it.each([
    { who: 'en' as const, message: 'Dip pot 1 is over its ceiling: 101.3 °C, ceiling 100.0 °C.' },
    { who: 'de' as const, message: 'Dip pot 1 ist über der Höchsttemperatur: 101,3 °C, höchstens 100,0 °C.' },
    {
      who: { language: 'en', temperatureUnit: 'fahrenheit', hourCycle: 'h12' } as const,
      message: 'Dip pot 1 is over its ceiling: 214.3 °F, ceiling 212.0 °F.',
    },
  ])('reads "$message"', ({ who, message }) => {
    expect(alarmText(told, potLab(), who).message).toBe(message);
  });

  it('converts a difference without the zero of the scale', () => {
    const swing: Told = {
      ...told,
      rule: 'night-swing',
      evidence: { swing_celsius_difference: 5, low_celsius: 15, high_celsius: 20 },
    };
    const reader = { language: 'en', temperatureUnit: 'fahrenheit', hourCycle: 'h23' } as const;
    expect(alarmText(swing, potLab(), reader).message).toContain('by 9.0 °F overnight (59.0 °F to 68.0 °F)');
  });

  it('gives instants in the zone of the lab and the clock of the reader', () => {
    const silent: Told = {
      ...told,
      rule: 'probe-silent',
      subject: 'p1',
      subjectKind: 'probe',
      evidence: { newest_at: instant(7 * 3600), value_celsius: 90 },
    };
    expect(alarmText(silent, potLab(), 'en').message).toMatch(
      /^No data from probe p1 \(Dip pot 1\) since .*16:00/,
    );
    const h12 = { language: 'en', temperatureUnit: 'celsius', hourCycle: 'h12' } as const;
    expect(alarmText(silent, potLab(), h12).message).toMatch(/0?4:00.?pm/i);
  });

  it('says of what was learned late when it happened', () => {
    expect(alarmText({ ...told, tense: 'learned' }, potLab(), 'en').message).toMatch(
      /^Learned late, happened .*09:00.*: Dip pot 1 is over/,
    );
  });

  it('names the first cause that an alarm is hidden behind', () => {
    expect(hiddenText('behind:gateway-lost', 'en')).toBe('behind “Gateway lost”');
    expect(hiddenText('warm-up', 'de')).toBe('heizt wie bekannt auf');
    expect(hiddenText(null, 'en')).toBe('');
  });
});
