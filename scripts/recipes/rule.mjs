import { before, edits, moreWords } from './recipe.mjs';

const RULE = `// A room so warm that wax cannot be handled in it.

import { STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import { deadband, offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

export const benchWarm = stationRule({
  kind: 'bench-warm',
  priority: 'low',
  extremes: ['highest'],
  formula: 'T > limit',
  parameters: {
    limit_celsius: parameter('celsius', 28, [20, 40]),
    deadband_celsius_difference: deadband(0.5),
    on_delay_seconds: onDelay(600),
    off_delay_seconds: offDelay(600),
  },
  appliesTo: (station) => STATION_KIND_FACTS[station.kind].role === 'ambient',
  evaluate: ({ celsius }, p) => {
    const { limit_celsius: limit, deadband_celsius_difference: deadband } = p;
    if (celsius <= limit) return celsius <= limit - deadband ? 'gone' : 'between';
    return { evidence: { value_celsius: celsius, limit_celsius: limit }, worst: celsius };
  },
});
`;

const TEST = `import { describe, expect, it } from 'vitest';
import { labOf, probeOf, readingOf } from '../../../../tests/rehearsal.ts';
import { waxWatch } from '../../wax-watch.ts';

const lab = labOf([{ id: 'bench', name: 'Bench', kind: 'room', wax: null }], [probeOf('p1', 'bench')]);
const rulesAt = (celsius: number, seconds: number): readonly string[] => {
  const readings = Array.from({ length: seconds / 10 + 1 }, (_, index) =>
    readingOf('p1', index * 10, celsius),
  );
  return waxWatch.stepAll(waxWatch.initial(), readings, lab).findings.map(({ rule }) => rule);
};

describe('a room with a limit of 28 °C', () => {
  it.each([
    { celsius: 28, seconds: 600, raised: false },
    { celsius: 28.1, seconds: 590, raised: false },
    { celsius: 28.1, seconds: 600, raised: true },
  ])('that is at $celsius °C for $seconds s raises bench-warm: $raised', ({ celsius, seconds, raised }) => {
    expect(rulesAt(celsius, seconds).includes('bench-warm')).toBe(raised);
  });
});
`;

const words = {
  en: {
    name: 'Room too warm',
    short: 'Room too warm',
    brief: 'Air or shade the room',
    message: '{place} is at {value_celsius}, above its limit of {limit_celsius}.',
    meaning: 'Wax is soft under the fingers, and a pattern moves while it is worked on.',
    action: 'Air or shade the room, or work on wax at a cooler time.',
    caution: '',
    detects: 'A room warmer than wax can be worked in.',
    rationale: 'Nothing is spoiled at once.',
    consequence: 'Patterns that are distorted while they are made.',
    figures: { limit_celsius: 'Warmest that the room may be' },
  },
  de: {
    name: 'Raum zu warm',
    short: 'Raum zu warm',
    brief: 'Lüften oder abschatten',
    message: '{place} hat {value_celsius}, mehr als die Grenze von {limit_celsius}.',
    meaning: 'Wachs ist unter den Fingern weich, und eine Modellation verzieht sich bei der Arbeit.',
    action: 'Raum lüften oder abschatten oder zu kühlerer Zeit mit Wachs arbeiten.',
    caution: '',
    detects: 'Ein Raum, der für die Arbeit mit Wachs zu warm ist.',
    rationale: 'Nichts ist sofort verdorben.',
    consequence: 'Modellationen, die sich schon beim Anfertigen verziehen.',
    figures: { limit_celsius: 'Höchste zulässige Raumtemperatur' },
  },
};

/** @type {import('./recipe.mjs').Recipe} */
export const rule = {
  name: 'rule',
  example: '`bench-warm`, a room too warm to work on wax in',
  most: 5,
  steps: [
    {
      path: 'alerts/watch/rules/storage/bench-warm.ts',
      does: 'the rule: its priority, formula, figures with bounds and source, and one pure `evaluate`',
      edit: () => RULE,
    },
    {
      path: 'alerts/watch/rules/all-rules.ts',
      does: 'its row; a cause comes before what it hides',
      edit: edits(
        before('import { doorOpen }', "import { benchWarm } from './storage/bench-warm.ts';\n"),
        before("  'door-open': doorOpen,", "  'bench-warm': benchWarm,\n"),
      ),
    },
    {
      path: 'words/en/rules.json',
      does: 'its words: name, what happened, what that does to the wax, what to do, caution, its own figures',
      edit: moreWords({ 'bench-warm': words.en }),
    },
    {
      path: 'words/de/rules.json',
      does: 'the same in German; one file for each further language',
      edit: moreWords({ 'bench-warm': words.de }),
    },
    {
      path: 'alerts/watch/rules/storage/bench-warm.test.ts',
      does: 'both sides of every edge',
      edit: () => TEST,
    },
  ],
  generated: [
    {
      path: 'docs/rules.md',
      command: ['npx', 'vitest', 'run', 'alerts/notices/texts/rules-page', '--update'],
    },
  ],
  tests: ['alerts/watch/rules/storage/bench-warm', 'alerts/notices/texts', 'words', 'dashboard/web/messages'],
};
