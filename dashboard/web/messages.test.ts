import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ALARM_STATE_WORDS } from '../../alerts/watch/life/alarm-state.ts';
import { NOTICE_KINDS } from '../../alerts/notices/duty/escalation.ts';
import { CHANNELS, OUTBOX_STATES } from '../../alerts/notices/outbox/outbox-row.ts';
import { SEND_ANSWER_CODES } from '../../alerts/notices/outbox/send-answer.ts';
import { QUALITY_TARGETS } from '../../alerts/watch/quality/targets.ts';
import { ALL_RULES, RULE_KINDS } from '../../alerts/watch/rules/all-rules.ts';
import { PRIORITIES } from '../../alerts/watch/rule/priority.ts';
import { STATION_CONDITIONS } from '../../alerts/watch/engine/station-status.ts';
import { INTENT_KINDS } from '../../lab/intent-kind.ts';
import { FATES, LIFE_ACTS, ORIGINS, PATTERN_KINDS, SOFTENINGS, TECHNIQUES } from '../../lab/pattern.ts';
import { patternCare } from '../../lab/pattern-care.ts';
import { PATTERN_VERDICTS } from '../../lab/patterns/pattern-verdict.ts';
import { WEEKDAYS } from '../../lab/lab.ts';
import { GROUP_DETAILS } from '../../lab/group/group-link.ts';
import { MAIL_SECURITIES } from '../../lab/database/mail-setting.ts';
import { BATTERY_UNITS, MAPPED_TIMES, MAPPED_UNITS } from '../../lab/database/payload-mapping.ts';
import { MAIL_WHEN, ROLES } from '../../lab/person.ts';
import { STATION_KINDS } from '../../lab/station-kinds.ts';
import { NOTIFIED_GROUPS } from '../../lab/notification-plan.ts';
import { BURN_CAUTIONS, BURN_SOURCE, TOUCH_NOTICE_CELSIUS } from '../../wax/burn-caution.ts';
import { CALIBRATION_DOUBTS } from '../../wax/relaxation/calibration-verdict.ts';
import { ALLOY_SHRINKAGE, INVESTMENT_EXPANSION, patternShrinkage } from '../../wax/relaxation/fit-budget.ts';
import { SURFACE_COEFFICIENT } from '../../wax/heat/soak-body.ts';
import { celsius } from '../../wax/units.ts';
import { waxClass } from '../../wax/wax-class.ts';
import { STANDINGS } from '../../wax/classes/wax-value.ts';
import { WAX_CLASS_IDS } from '../../wax/classes/wax-class-id.ts';
import { AUDIT_ENTITIES } from '../api/audit-entities.ts';
import { languageFiles } from '../../words/load-languages.ts';
import { SPANS } from './screens/quality/quality-span.ts';
import { PLAN_PARTS } from './screens/set-up/notification-plan/plan-draft.ts';

const root = import.meta.dirname;
const sources = readdirSync(root, { recursive: true, encoding: 'utf8' })
  .filter((path) => /\.tsx?$/.test(path) && !/\.test\.ts$/.test(path))
  .map((path) => ({ path, text: readFileSync(join(root, path), 'utf8') }))
  // Its names are those of the screens too.
  .concat({
    path: 'wax-value-name.ts',
    text: readFileSync(join(root, '../../words/wax-value-name.ts'), 'utf8'),
  });
/** The files that the screens take their words from; those of notices and reports are the server's. */
const {
  daily,
  'set-up': setUp,
  quality,
  sheets,
  work,
  materials,
  figures,
  rules,
  sources: sourceTexts,
} = languageFiles('en');
const english = { ...daily, ...setUp, ...quality, ...sheets, ...work, ...materials, ...figures };
const everything = { ...english, ...rules };

/** Groups whose keys are built from the server's answer. */
const GROUPS: Readonly<Record<string, readonly string[]>> = {
  part: ['broker', 'journal', 'store', 'rules', 'figures', 'certificate'],
  role: ROLES,
  day: WEEKDAYS,
  rule: RULE_KINDS.flatMap((kind) => [`${kind}.name`, `${kind}.short`, `${kind}.brief`, `${kind}.detects`]),
  condition: STATION_CONDITIONS,
  intent: INTENT_KINDS,
  priority: PRIORITIES,
  state: Object.values(ALARM_STATE_WORDS),
  kind: STATION_KINDS,
  wax: WAX_CLASS_IDS,
  'wax-short': WAX_CLASS_IDS,
  standing: STANDINGS,
  verdict: PATTERN_VERDICTS,
  'place-verdict': PATTERN_VERDICTS,
  'life-act': LIFE_ACTS,
  origin: ORIGINS,
  softening: SOFTENINGS,
  'pattern-kind': PATTERN_KINDS,
  whereabouts: ['on-die', 'standing', 'chilled', 'away'],
  'quality-figure': Object.keys(QUALITY_TARGETS),
  'quality-span': SPANS,
  'post-state': ['sending', 'again', 'sent', 'refused'],
  'notified-group': NOTIFIED_GROUPS,
  'mail-wish': MAIL_WHEN,
  'plan-part': PLAN_PARTS,
  'outbox-state': OUTBOX_STATES,
  'send-answer': SEND_ANSWER_CODES,
  'outbox-state-means': OUTBOX_STATES,
  'outbox-channel': CHANNELS,
  'outbox-kind': [...NOTICE_KINDS, 'change', 'test'],
  entity: AUDIT_ENTITIES,
  fate: FATES,
  'fate-act': FATES,
  technique: TECHNIQUES,
  alloy: Object.keys(ALLOY_SHRINKAGE),
  investment: Object.keys(INVESTMENT_EXPANSION),
  'fit-part': ['wax', 'alloy', 'setting', 'hygroscopic', 'thermal'],
  'fit-problem': ['not-a-temperature', 'bad-length', 'bad-budget-item'],
  'calibration-problem': [
    'bad-calibration-points',
    'bad-uncertainty',
    'calibration-points-near',
    'calibration-too-steep',
    'probe-too-far-off',
  ],
  burnout: ['not-invested', 'no-readings', 'below', 'short', 'held'],
  'burnout-step': ['no-readings', 'below', 'short', 'held'],
  factor: [
    ...[
      'wax',
      'technique',
      'lot',
      'charge',
      'dose',
      'origin',
      'softening',
      'station',
      'stored',
      'warm',
      'die',
    ],
    ...['investment', 'alloy', 'powder-lot'],
  ],
  'dose-group': ['under-half', 'over-half', 'spent'],
  'stored-group': ['under-1-hour', '1-to-12-hours', '12-to-48-hours', 'over-48-hours'],
  'warm-group': ['too-warm', 'never-too-warm'],
  'die-group': ['mostly-on-die', 'mostly-off-die'],
  'proof-problem': ['too-few-fit-cases', 'fit-cases-alike', 'not-a-number'],
  'fit-verdict': ['balanced', 'small', 'large'],
  doubt: CALIBRATION_DOUBTS,
  burn: BURN_CAUTIONS,
  quality: ['good', 'suspect', 'uncertain-time'],
  'group-detail': GROUP_DETAILS,
  'mail-security': MAIL_SECURITIES,
  'battery-unit': BATTERY_UNITS,
  'mapped-unit': MAPPED_UNITS,
  'mapped-time': MAPPED_TIMES,
};
const SERVER_GROUPS = [...Object.keys(GROUPS), 'change', 'action', 'entity', 'rule-figure'];

/** Every source that is beside a figure, wherever it is in `tables`. */
const sourcesIn = (tables: unknown): readonly string[] => {
  if (typeof tables !== 'object' || tables === null) return [];
  const { source } = tables as { readonly source?: { readonly code: string } };
  return source === undefined ? Object.values(tables).flatMap(sourcesIn) : [source.code];
};

describe('the words of the screens', () => {
  it.each(Object.entries(GROUPS))('have a text for every %s that the server can send', (group, names) => {
    for (const name of names) expect(Object.keys(everything)).toContain(`${group}.${name}`);
  });
  it('name every figure of every rule once, under its rule or for all rules that have it', () => {
    const named = [...Object.keys(figures ?? {}), ...Object.keys(rules ?? {})].filter((key) =>
      /^rule-figure\.|^rule\.[\w-]+\.figures\./.test(key),
    );
    const used = ALL_RULES.flatMap(({ kind, parameters }) =>
      Object.keys(parameters).map((name) => {
        const own = named.filter((key) =>
          [`rule.${kind}.figures.${name}`, `rule-figure.${name}`].includes(key),
        );
        expect(own, `${kind} ${name}`).toHaveLength(1);
        return own[0];
      }),
    );
    expect(named.filter((key) => !used.includes(key))).toEqual([]);
  });
  it('have every source of a figure and no other', () => {
    const sources = sourcesIn([
      ALL_RULES,
      QUALITY_TARGETS,
      WAX_CLASS_IDS.map((id) => waxClass(id)),
      ALLOY_SHRINKAGE,
      INVESTMENT_EXPANSION,
      TOUCH_NOTICE_CELSIUS,
      patternCare(),
      SURFACE_COEFFICIENT,
      patternShrinkage(waxClass('inlay-type-1'), celsius(37), celsius(22)),
    ]);
    // As lab/limits.ts, labsOwn and fromSheet write them.
    const own = ['set-for-station', 'set-instead', 'set-by-lab', 'sheet-of-lot'];
    const wanted = [...new Set([...sources, ...Object.values(BURN_SOURCE), ...own])].map(
      (code) => `source.${code}`,
    );
    const written = Object.keys(sourceTexts ?? {});
    expect(written.sort()).toEqual(wanted.sort());
  });
  it('hold no text that no screen uses', () => {
    const all = sources.map((source) => source.text).join('\n');
    const unused = Object.keys(english).filter(
      (key) =>
        !SERVER_GROUPS.includes(key.split('.')[0] ?? '') &&
        !all.includes(`'${key}'`) &&
        !all.includes(`"${key}"`),
    );
    expect(unused).toEqual([]);
  });
});

describe('the screens', () => {
  it('hold no text of their own between tags', () => {
    const found = sources
      .filter((source) => source.path.endsWith('.tsx'))
      .flatMap(({ path, text }) =>
        [...text.matchAll(/<[a-zA-Z][^<>{}]*>\s*([^<>{}]*\p{L}{2,}[^<>{}]*)<\//gu)].map(
          ([, words]) => `${path}: ${words}`,
        ),
      );
    expect(found).toEqual([]);
  });
  it('hold no text of their own in attributes that are read aloud or shown', () => {
    const found = sources
      .filter((source) => source.path.endsWith('.tsx'))
      .flatMap(({ path, text }) =>
        [...text.matchAll(/\b(?:aria-label|title|placeholder|alt)="([^"]*\p{L}[^"]*)"/gu)].map(
          ([whole]) => `${path}: ${whole}`,
        ),
      );
    expect(found).toEqual([]);
  });
  it('would be caught by these scans if they did', () => {
    expect('<h1>Hello there</h1>').toMatch(/<[a-zA-Z][^<>{}]*>\s*([^<>{}]*\p{L}{2,}[^<>{}]*)<\//u);
  });
  it('write sides as start and end, never as left and right', () => {
    const physical = readdirSync(root, { recursive: true, encoding: 'utf8' })
      .filter((path) => path.endsWith('.css'))
      .flatMap((path) =>
        [
          ...readFileSync(join(root, path), 'utf8').matchAll(
            /^\s*((?:margin|padding|border)-(?:left|right)|left|right|text-align:\s*(?:left|right))\b.*$/gm,
          ),
        ].map(([line]) => `${path}: ${line.trim()}`),
      );
    expect(physical).toEqual([]);
  });
});
