import { expect, it } from 'vitest';
import { helpText } from './help.ts';
import { SETTING_ROWS } from '../settings/setting-rows.ts';

it('the help names every setting with its environment variable', () => {
  for (const [name, { env }] of Object.entries(SETTING_ROWS)) {
    expect(helpText()).toMatch(new RegExp(`^  --${name}( |$)`, 'm'));
    expect(helpText()).toContain(env);
  }
});
