// What `--help` prints: every setting with its shape, its environment variable and what it is when nothing is said.

import { SETTING_ROWS } from './settings.ts';

export const helpText = (): string =>
  [
    'Waxwarden watches the heat that the wax of a dental laboratory goes through.',
    '',
    '  npm run demo                    a simulated lab, to look around',
    '  npm start -- [--SETTING VALUE]  your lab',
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
    'It informs and is no safety device: every heater needs its own thermal cut-out and a person nearby.',
  ].join('\n');
