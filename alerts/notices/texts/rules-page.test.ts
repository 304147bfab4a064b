import { describe, expect, it } from 'vitest';
import { rulesPage } from './rules-page.ts';
import { RULE_KINDS } from '../../watch/rules/all-rules.ts';

describe('docs/rules.md', () => {
  it('is generated from the rules', async () => {
    await expect(rulesPage()).toMatchFileSnapshot('../../../docs/rules.md');
  });

  it('has every rule once', () => {
    for (const kind of RULE_KINDS) expect(rulesPage().split(`(\`${kind}\`)`)).toHaveLength(2);
  });
});
