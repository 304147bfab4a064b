// The catalogue of rules as a page for people, written from the rules themselves so that the two cannot differ.

import type { Lab } from '../../../lab/lab.ts';
import { stationLimits } from '../../../lab/limits.ts';
import type { Station } from '../../../lab/station.ts';
import { STATION_KINDS, stores } from '../../../lab/station-kinds.ts';
import { variantsOf } from '../../../words/compile-message.ts';
import { sourceInEnglish } from '../../../words/source-in-english.ts';
import { languageFiles } from '../../../words/load-languages.ts';
import { ALL_RULES, type KnownRule, type RuleKind } from '../../watch/rules/all-rules.ts';
import type { Parameter } from '../../watch/rule/parameter.ts';
import { PRIORITIES } from '../../watch/rule/priority.ts';

const { rules = {}, figures = {} } = languageFiles('en');

type Field = 'name' | 'message' | 'meaning' | 'action' | 'caution' | 'detects' | 'rationale' | 'consequence';
/** Every case that a text has, its places in braces. */
const text = (kind: RuleKind, field: Field): string =>
  variantsOf(rules[`rule.${kind}.${field}`] ?? '').join(' / ');

const INTRODUCTION = `# Rules

This page is made from the rules and from \`words/en/rules.json\`; the test that compares them rewrites it with
\`npx vitest run alerts/notices/texts/rules-page --update\`.

A rule judges measured values. It is raised once its condition has held for the on-delay, and clears once the value has been
back beyond the deadband for the off-delay, both by the time stamps of the readings. If people must act on it, it is an alarm
with the life cycle of IEC 62682 / ISA-18.2; if not, it is a notice. An alarm caused by another one
is hidden behind it. Late readings never raise a live alarm: what they show is reported as learned late.

Every figure can be set per station within its bounds, in the lab file under \`rules\` of the station or on the station's
page. A figure out of bounds is refused and the default stays. \`enabled: false\` switches a rule off where that is
allowed. The two delays of a rule are figures too (\`on_delay_seconds\`, \`off_delay_seconds\`, 0 to 86400); unless the table says
otherwise they are common practice without a publication. U is the expanded uncertainty (k = 2) of the probe.

**The program informs; it does not protect. Every heater needs its own thermal cut-out and a person nearby. The makers'
instructions, the local fire and electrical codes and licensed practice come first.**
`;

const NO_HOURS = { mon: [], tue: [], wed: [], thu: [], fri: [], sat: [], sun: [] };
const EMPTY_LAB: Lab = {
  site: { id: 'lab', name: '', timeZone: 'UTC', workingHours: NO_HOURS, holidays: [] },
  stations: [],
  probes: [],
  charges: [],
  patterns: [],
  people: [],
  waxOverrides: {},
};
const STORAGE = STATION_KINDS.filter(stores).map(
  (kind): Station => ({ id: kind, name: '', kind, wax: 'inlay-type-2' }),
);
const isOfStorage = (rule: KnownRule): boolean =>
  rule.scope === 'station' &&
  STORAGE.some((station) => rule.appliesTo(station, stationLimits(station, EMPTY_LAB)));

const GROUPS: readonly { readonly title: string; readonly holds: (rule: KnownRule) => boolean }[] = [
  { title: 'Heat', holds: (rule) => rule.scope === 'station' && !isOfStorage(rule) },
  { title: 'Storage and patterns', holds: (rule) => rule.scope === 'pattern' || isOfStorage(rule) },
  { title: 'Measuring', holds: (rule) => rule.scope === 'probe' || rule.scope === 'gateway' },
  { title: 'The watcher itself', holds: (rule) => rule.scope === 'self' },
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

function section(rule: KnownRule): string {
  const { kind } = rule;
  const optional = (heading: string, content: string): readonly string[] =>
    content === '' ? [] : [`**${heading}.** ${content}`];
  const facts = [
    `**Detects.** ${text(kind, 'detects')}`,
    `**Formula.** \`${rule.formula}\``,
    `**Priority.** ${rule.priority}${rule.latches ? ', latching: it must be reset after it was acknowledged' : ''}. ${text(kind, 'rationale')}`,
    `**If nobody responds.** ${text(kind, 'consequence')}`,
    ...optional('Hidden behind', (rule.hiddenBehind ?? []).map((cause) => text(cause, 'name')).join(', ')),
    ...(rule.reAlarmMinutes
      ? [`**Alarms again** ${rule.reAlarmMinutes} min after it was acknowledged, while it lasts.`]
      : []),
    ...(rule.mayBeSwitchedOff ? [] : ['**Always on**: it cannot be switched off.']),
    `**Message.** ${text(kind, 'message')}`,
    `**Effect.** ${text(kind, 'meaning')}`,
    ...optional('Response', text(kind, 'action')),
    ...optional('Caution', text(kind, 'caution')),
  ];
  const delays = Object.entries(rule.parameters).filter((entry) => isUsualDelay(...entry));
  const figuresOfTable = Object.entries(rule.parameters).filter((entry) => !isUsualDelay(...entry));
  return [
    `### ${text(kind, 'name')} (\`${kind}\`)`,
    ...facts,
    ...optional(
      'Delays',
      delays.map(([name, { default: seconds }]) => `${DELAYS[name]} ${seconds} s`).join(', '),
    ),
    ...(figuresOfTable.length === 0 ? [] : [figureTable(kind, figuresOfTable)]),
  ].join('\n\n');
}

const DELAYS: Readonly<Record<string, string>> = { on_delay_seconds: 'on', off_delay_seconds: 'off' };

/** A delay that the introduction describes, but for its value. */
const isUsualDelay = (name: string, { low, high, source }: Parameter): boolean =>
  name in DELAYS && low === 0 && high === 86_400 && source.code === 'monitoring-practice';

const figureTable = (kind: RuleKind, table: readonly (readonly [string, Parameter])[]): string =>
  [
    '| figure | default | bounds | what | standing | source |',
    '|---|---|---|---|---|---|',
    ...table.map(([name, parameter]) => parameterRow(kind, name, parameter)),
  ].join('\n');

const parameterRow = (
  kind: RuleKind,
  name: string,
  { default: byDefault, low, high, standing, source }: Parameter,
): string => {
  const what = rules[`rule.${kind}.figures.${name}`] ?? figures[`rule-figure.${name}`] ?? '';
  return `| \`${name}\` | ${byDefault} | ${low} to ${high} | ${what} | ${standing} | ${sourceInEnglish(source)} |`;
};
