// The guide of the gateway: every settings file in it is one that the gateway accepts, and it begins with the cautions.

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readSettings } from '../../gateway/settings.ts';

const guide = readFileSync(join(import.meta.dirname, '../../docs/gateway.md'), 'utf8');
const examples = [...guide.matchAll(/```yaml\n(.*?)```/gs)].map(([, yaml]) => yaml ?? '');

describe('the guide of the gateway', () => {
  it.each(['gateway', 'connect-a-probe'])('begins with the cautions, as do all about probes: %s', (name) => {
    const text = readFileSync(join(import.meta.dirname, `../../docs/${name}.md`), 'utf8');
    expect(text).toMatch(/^# .+\n\n> \*\*Caution\.\*\* Hot wax burns/);
  });

  it.each(examples)('has settings that the gateway accepts: %s', (yaml) => {
    expect(readSettings(yaml).site).toBe('my-lab');
  });

  it('names only scripts that there are', () => {
    const scripts = Object.keys(
      (
        JSON.parse(readFileSync(join(import.meta.dirname, '../../package.json'), 'utf8')) as {
          scripts: object;
        }
      ).scripts,
    );
    for (const [, name] of guide.matchAll(/npm run (\w+)/g)) expect(scripts).toContain(name);
  });
});
