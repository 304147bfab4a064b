// The catalogue of rules as a page for people, written from the rules themselves so that it cannot say otherwise.

import { CATALOGUES } from './alarm-text.ts';
import { CAUTION_OF, type Worded } from './rule-words.ts';
import { ALL_RULES } from '../../watch/rules/all-rules.ts';
import type { Parameter } from '../../watch/rule/parameter.ts';
import { isNotice, type Rule } from '../../watch/rule/rule.ts';
import { PRIORITIES } from '../../watch/rule/rule-kind.ts';

const { rules, cautions, names } = CATALOGUES.en;

const INTRODUCTION = `# Rules

This page is written from the code of the rules; the test that compares the two rewrites it with
\`npx vitest run --project unit alerts/notices/words/rules-page --update\`.

A rule looks at what was measured. It begins when its condition has held for the on-delay and ends when it has been
gone beyond the deadband for the off-delay, both by the times of the readings. What a person must act on is an alarm
with the life of IEC 62682 / ISA-18.2; what nobody need act on is a notice. An alarm that has its cause in another one
is hidden behind it. Readings that come late never raise a live alarm: what they reveal is told as learned.

Every figure can be set for each station within its bounds, in the lab file under \`rules\` of the station, or at its
page. A figure out of bounds is refused and the default holds. \`enabled: false\` switches a rule off where that is
allowed. U is the expanded uncertainty (k = 2) of the probe.

**It informs, it does not protect: every heater needs its own thermal cut-out and a person nearby. The makers'
instructions, the local fire and electrical code and licensed practice come first.**
`;

const GROUPS: readonly { readonly title: string; readonly holds: (rule: Rule) => boolean }[] = [
  {
    title: 'Heat',
    holds: (rule) => rule.scope === 'station' && !STORAGE.includes(rule.kind),
  },
  {
    title: 'Storage and patterns',
    holds: (rule) => rule.scope === 'pattern' || STORAGE.includes(rule.kind),
  },
  { title: 'Measuring', holds: (rule) => rule.scope === 'probe' || rule.scope === 'gateway' },
  { title: 'The watcher itself', holds: (rule) => rule.scope === 'self' },
];
const STORAGE: readonly string[] = [
  'storage-swing',
  'storage-rate',
  'storage-warm',
  'door-open',
  'night-swing',
  'pattern-warm',
  'pattern-weekend',
];

export function rulesPage(): string {
  const table = PRIORITIES.map((priority) => {
    const kinds = ALL_RULES.filter((rule) => rule.priority === priority).map(({ kind }) => `\`${kind}\``);
    return `| ${priority} | ${kinds.join(', ')} |`;
  });
  const overview = ['## By priority', '', '| priority | rules |', '|---|---|', ...table].join('\n');
  const groups = GROUPS.map(({ title, holds }) =>
    [`## ${title}`, ...ALL_RULES.filter(holds).map(section)].join('\n\n'),
  );
  return `${[INTRODUCTION.trimEnd(), overview, ...groups].join('\n\n')}\n`;
}

function section(rule: Rule): string {
  const words = rules[rule.kind];
  const caution = cautions[CAUTION_OF[rule.kind]];
  const facts = [
    `**Sees.** ${rule.detects}`,
    `**Formula.** \`${rule.formula}\``,
    `**Priority.** ${rule.priority}${rule.latches ? ', latching: it must be reset after it was seen' : ''}. ${rule.rationale}`,
    `**If nobody answers.** ${rule.consequence}`,
    ...(isNotice(rule) ? [] : [`**Response.** ${rule.response}`]),
    ...(rule.hiddenBehind
      ? [`**Hidden behind.** ${rule.hiddenBehind.map((kind) => names[kind]).join(', ')}`]
      : []),
    ...(rule.reAlarmMinutes
      ? [`**Asks anew** ${rule.reAlarmMinutes} min after it was acknowledged, while it is still so.`]
      : []),
    ...(rule.mayBeSwitchedOff ? [] : ['**Always on**: it cannot be switched off.']),
    `**Message.** ${asText(words.message)}`,
    `**Meaning.** ${asText(words.meaning)}`,
    ...(asText(words.action) === '' ? [] : [`**Action.** ${asText(words.action)}`]),
    ...(caution === '' ? [] : [`**Caution.** ${caution}`]),
  ];
  return [`### ${names[rule.kind]} (\`${rule.kind}\`)`, ...facts, parameterTable(rule)].join('\n\n');
}

const asText = (worded: Worded): string =>
  typeof worded === 'string' ? worded : Object.values(worded.cases).join(' / ');

const parameterTable = (rule: Rule): string =>
  [
    '| figure | default | bounds | what | standing | source |',
    '|---|---|---|---|---|---|',
    ...Object.entries(rule.parameters).map(([name, one]) => row(name, one)),
  ].join('\n');

const row = (name: string, { default: byDefault, low, high, what, standing, source }: Parameter): string =>
  `| \`${name}\` | ${byDefault} | ${low} to ${high} | ${what} | ${standing} | ${source} |`;
