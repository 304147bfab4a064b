// docs/recipes.md, written from the recipes.

import { RECIPES } from './all-recipes.mjs';

const files = (count) => `${count} ${count === 1 ? 'file' : 'files'}`;

const section = ({ name, example, most, steps, generated, tests }) => {
  const limit = most === null ? '' : `, of at most ${most}`;
  const rows = steps.map(({ path, does }, index) => `| ${index + 1} | \`${path}\` | ${does} |`);
  const pages = generated.map(({ path, command }) => `- \`${path}\`: \`${command.join(' ')}\``);
  return [
    `## Add a ${name}`,
    `For example ${example}. ${files(steps.length)} by hand${limit}:`,
    ['| | file | what goes there |', '|---|---|---|', ...rows].join('\n'),
    ...(pages.length === 0 ? [] : [`Then let the generated pages be written anew:`, pages.join('\n')]),
    `Tests to run then: \`npx vitest run ${tests.join(' ')}\``,
  ].join('\n\n');
};

/** @returns {string} */
export const recipesPage = () => `# Recipes

Each recipe is carried out by \`tests/rules/recipes.test.ts\` on a copy of the tree: the files below are those that really change, the
copy compiles, and its tests pass. The code of each example is in \`scripts/recipes/\`. This page is generated
(\`node scripts/make-recipes.mjs\`).

${RECIPES.map(section).join('\n\n')}
`;
