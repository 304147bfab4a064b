// Patterns that a text is held against before anybody has signed in, so that no text takes time out of proportion to its
// length: one request could hold up the whole watch.

import { analyse } from 'scslre';
import { describe, expect, it } from 'vitest';
import { LAB_FILE_SCHEMA } from '../../lab/lab-file-schema.ts';
import { serverForTests } from '../../tests/server-for-tests.ts';

/** Of every text in a description, however deep. */
const patternsIn = (description: unknown): readonly string[] => {
  if (Array.isArray(description)) return description.flatMap(patternsIn);
  if (typeof description !== 'object' || description === null) return [];
  return Object.entries(description).flatMap(([key, inner]) =>
    key === 'pattern' && typeof inner === 'string' ? [inner] : patternsIn(inner),
  );
};
const slowParts = (pattern: string): readonly string[] =>
  analyse(new RegExp(pattern, 'u')).reports.map(({ type }) => type);

describe('patterns of the interface and of the lab file', () => {
  it('are all matched in time proportional to the text', async () => {
    const test = await serverForTests();
    const patterns = new Set([...patternsIn(test.server.swagger()), ...patternsIn(LAB_FILE_SCHEMA)]);
    await test.close();
    expect(patterns.size).toBeGreaterThan(15);
    expect([...patterns].filter((pattern) => slowParts(pattern).length > 0)).toEqual([]);
  });

  it('would be reported if one were not', () => {
    expect(slowParts('^[^\\r\\n\\t]*[^\\s][^\\r\\n\\t]*$')).not.toEqual([]);
  });
});
