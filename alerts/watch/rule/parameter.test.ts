import { describe, expect, it } from 'vitest';
import { dipPot } from '../../../tests/rehearsal.ts';
import { ALL_RULES, RULES } from '../rules/all-rules.ts';
import { ruleParameters } from './parameter.ts';

const at = (kind: keyof typeof RULES, values: Record<string, number | boolean>) =>
  ruleParameters(RULES[kind], { ...dipPot, rules: { [kind]: values } });

describe('figures of a rule', () => {
  it.each(ALL_RULES)('of "$kind" have a default within their bounds and name its source', (rule) => {
    for (const parameter of Object.values(rule.parameters)) {
      expect(parameter.default).toBeGreaterThanOrEqual(parameter.low);
      expect(parameter.default).toBeLessThanOrEqual(parameter.high);
      expect(parameter.source.code).not.toBe('');
    }
    expect(Object.keys(rule.parameters)).toEqual(
      expect.arrayContaining(['on_delay_seconds', 'off_delay_seconds']),
    );
  });

  it.each([
    { value: 105, taken: 105, code: undefined },
    { value: 170, taken: 170, code: undefined },
    { value: 104.9, taken: 150, code: 'rule-parameter-refused' },
    { value: 170.1, taken: 150, code: 'rule-parameter-refused' },
    { value: Number.NaN, taken: 150, code: 'rule-parameter-refused' },
    { value: true, taken: 150, code: 'rule-parameter-refused' },
  ])('a fire limit of $value gives $taken °C, problem $code', ({ value, taken, code }) => {
    const resolved = at('fire-risk', { limit_celsius: value });
    expect([resolved.values.limit_celsius, resolved.problems[0]?.code]).toEqual([taken, code]);
  });

  it('that do not exist are named with those that do', () => {
    const [problem] = at('left-on', { patience: 3 }).problems;
    expect(problem?.code).toBe('rule-parameter-unknown');
    expect(problem?.values?.names).toContain('grace_minutes');
  });

  it('cannot switch off what protects people', () => {
    expect(at('left-on', { enabled: false }).enabled).toBe(false);
    const fire = at('fire-risk', { enabled: false });
    expect([fire.enabled, fire.problems[0]?.code]).toEqual([true, 'rule-always-on']);
  });
});
