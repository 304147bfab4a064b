// A third language is one folder: planted in a copy of the tree, it is offered and used without any other change.

import { execFileSync } from 'node:child_process';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { scratchCopy } from '../../scripts/recipes/scratch-copy.mjs';

const MINUTES = 60_000;

/** Run inside the copy; prints what it observed as JSON. */
const OBSERVED = `
import { alarmText } from './alerts/notices/texts/alarm-text.ts';
import { FORM_FIELDS } from './dashboard/api/form-fields.ts';
import { words } from './dashboard/web/words-plugin.ts';
import { RULES_BY_PLACE } from './alerts/watch/rules/rules-by-place.ts';
import { readLabFile } from './lab/lab-file/read-lab-file.ts';
import { serverForTests } from './tests/server-for-tests.ts';
import { LANGUAGE_CODES } from './words/load-languages.ts';

const test = await serverForTests({ alarmWords: alarmText });
const manager = await test.manager();
const { statusCode } = await manager.send('PUT', '/api/account', {
  language: 'nl', temperatureUnit: 'celsius', hourCycle: 'h23', email: null, namesOnLockScreen: false,
  morningHeartbeat: false,
});
const { id } = test.lab.raise('over-ceiling', 'pot-1');
test.lab.step(id, {
  type: 'updates', at: test.lab.running.now(),
  evidence: { value_celsius: 131.5, ceiling_celsius: 90, over_minutes: 1 },
});
const [alarm] = (await manager.send('GET', '/api/alarms')).json();
await test.close();

const plugin = words();
const load = (id) => plugin.load.call({ addWatchFile() {} }, id);
const file = readLabFile(
  'site: { id: a, name: A, time_zone: UTC }\\npeople:\\n  - { id: j, name: J, role: viewer, language: nl }\\n',
  { rules: RULES_BY_PLACE, languages: LANGUAGE_CODES },
);
console.log(JSON.stringify({
  statusCode,
  message: alarm.message,
  choices: FORM_FIELDS.preferences.language.choices,
  screens: load('\\0virtual:words'),
  daily: load('\\0virtual:words/nl/daily'),
  labFile: file.ok,
}));
`;

describe('a language whose folder is planted', () => {
  let tree = '';
  let observed: Readonly<Record<string, unknown>> = {};
  beforeAll(() => {
    tree = scratchCopy();
    const folder = join(tree, 'words', 'nl');
    mkdirSync(join(folder, 'screens'), { recursive: true });
    writeFileSync(join(folder, 'language.json'), '{"name":"Nederlands","locale":"nl-NL"}');
    writeFileSync(
      join(folder, 'rules.json'),
      '{"over-ceiling":{"name":"Te heet","message":"{value_celsius} in plaats van {ceiling_celsius}"}}',
    );
    writeFileSync(join(folder, 'screens', 'daily.json'), '{"form.cancel":"Annuleren"}');
    const script = ['--import', './scripts/typescript-hooks.mjs', '--input-type=module', '--eval', OBSERVED];
    observed = JSON.parse(execFileSync(process.execPath, script, { cwd: tree, encoding: 'utf8' }));
  }, 2 * MINUTES);
  afterAll(() => rmSync(tree, { recursive: true, force: true }));

  it('is accepted for a person, in the account and in a lab file', () => {
    expect(observed).toMatchObject({ statusCode: 200, labFile: true, choices: ['de', 'en', 'nl'] });
  });

  it('words alarms for that person, numbers as its locale writes them', () => {
    expect(observed.message).toBe('131,5 °C in plaats van 90,0 °C');
  });

  it('is offered by the screens under its own name, with English for what it lacks', () => {
    expect(observed.screens).toContain('"nl": { name: "Nederlands", locale: "nl-NL"');
    expect(observed.daily).toContain('Annuleren');
    expect(observed.daily).toContain('Te heet');
    expect(observed.daily).toContain('Acknowledge');
  });
});
