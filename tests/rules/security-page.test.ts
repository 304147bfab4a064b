// Every test that docs/security.md names is there, in the file that it names.

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
const page = readFileSync(join(root, 'docs/security.md'), 'utf8');
const rows = [...page.matchAll(/^\| ([\d., to]+) \| .* \| `([^`]+)`: “([^”]+)” \|$/gm)].map(
  ([, points = '', file = '', title = '']) => ({ points, file, title }),
);

describe('the page on security', () => {
  it('names a test for each of its points', () => {
    const points = page.split('\n').filter((line) => /^\| \d/.test(line));
    expect(points.length).toBeGreaterThan(35);
    expect(rows).toHaveLength(points.length);
  });

  it.each(rows)('names for $points a test that $file holds', ({ file, title }) => {
    const quoted = [`'${title.replaceAll("'", "\\'")}'`, `"${title}"`];
    const source = readFileSync(join(root, file), 'utf8');
    expect(quoted.some((text) => source.includes(text))).toBe(true);
  });
});
