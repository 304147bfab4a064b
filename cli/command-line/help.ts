// What `--help` prints: every setting with its shape, its environment variable and what it is when nothing is given.

import { COMMANDS } from './commands.ts';
import { SAFETY_LINE } from '../console/console-words.ts';
import { SETTING_ROWS } from '../settings/setting-rows.ts';
import { VERBS } from '../verbs/all-verbs.ts';

export const helpText = (): string =>
  [
    'Waxwarden watches the heat that the wax of a dental laboratory goes through.',
    '',
    'waxwarden COMMAND [--SETTING VALUE]; from a clone also: npm run demo, npm start -- [--SETTING VALUE]',
    '',
    ...Object.entries(COMMANDS).map(([name, help]) => `  ${name.padEnd(12)}${help}`),
    '',
    ...Object.entries(VERBS).map(([name, { shape }]) => `  waxwarden ${name} ${shape}`),
    '',
    '  --new-manager-code',
    '      prints a code that makes a new manager, when the only password is lost',
    '      WAXWARDEN_NEW_MANAGER_CODE; true or nothing',
    ...Object.entries(SETTING_ROWS).flatMap(([name, { shape, env, fallback, help }]) => [
      `  --${name} ${shape}`.trimEnd(),
      `      ${help}`,
      `      ${env}; ${fallback === '' ? 'nothing' : fallback} when not given`,
    ]),
    '',
    SAFETY_LINE,
  ].join('\n');
