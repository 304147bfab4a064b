// The science page as Markdown: chapters with formulas, limits, plots and the comments of the sources, then
// every figure with its standing and source. Formulas as $...$ and $$...$$, as code hosts render them.

import { CHAPTERS, type Chapter } from './chapters.ts';
import { type FigureGroup, otherFigures, waxFigures } from './figures.ts';
import { PLOTS } from './plots.ts';
import { documentedExports, openingComment } from './source-text.ts';

/** Text of a file of the project, by its path from the root. */
export type ReadSource = (path: string) => string;

const anchor = (title: string): string =>
  title
    .toLowerCase()
    .replaceAll(/[^a-z0-9 -]/g, '')
    .replaceAll(' ', '-');

const sentence = (words: string): string => `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;

const cell = (text: string): string => text.replaceAll('|', '\\|').replaceAll('$', '\\$');
const table = (head: readonly string[], rows: readonly (readonly string[])[]): string =>
  [head, head.map(() => '---'), ...rows.map((row) => row.map(cell))]
    .map((row) => `| ${row.join(' | ')} |`)
    .join('\n');

function chapterText(chapter: Chapter, read: ReadSource): string {
  const sources = chapter.files.map((file) => ({ file: `wax/${file}.ts`, source: read(`wax/${file}.ts`) }));
  return [
    `## ${chapter.title}`,
    ...sources.map(({ file, source }) => `${openingComment(source)} ([\`${file}\`](../${file}))`),
    ...chapter.formulas.map(({ tex, where }) => `$$\n${tex}\n$$\n\n${sentence(where)}`),
    ...chapter.plots.map((plot) => `![${PLOTS[plot]?.().title ?? plot}](science/${plot}.svg)`),
    `**Limits**\n\n${chapter.limits.map((limit) => `- ${limit}`).join('\n')}`,
    chapter.checks.length === 0
      ? ''
      : `**Checked against the outside world** in ${chapter.checks
          .map((check) => `[\`${check}\`](../tests/reference/${check}.test.ts)`)
          .join(', ')}.`,
    functionsText(sources, chapter.leftOut ?? []),
  ].join('\n\n');
}

function functionsText(sources: readonly { readonly source: string }[], leftOut: readonly string[]): string {
  const rows = sources.flatMap(({ source }) =>
    documentedExports(source)
      .filter(({ name }) => !leftOut.includes(name))
      .map(({ name, text }) => [`\`${name}\``, text]),
  );
  return rows.length === 0
    ? ''
    : `<details><summary>Functions and constants</summary>\n\n${table(['Name', 'What it says of itself'], rows)}\n\n</details>`;
}

const groupText = ({ title, rows }: FigureGroup): string =>
  `### ${title}\n\n${
    rows.some(({ of }) => of !== '')
      ? table(
          ['What', 'Value', 'Of', 'Standing', 'Source'],
          rows.map(({ name, value, of, standing, source }) => [name, value, of, standing, source]),
        )
      : table(
          ['What', 'Value', 'Standing', 'Source'],
          rows.map(({ name, value, standing, source }) => [name, value, standing, source]),
        )
  }`;

function countOf(groups: readonly FigureGroup[]): string {
  const rows = groups.flatMap((group) => group.rows);
  const counts = ['published', 'from memory', 'common practice'].map(
    (standing) => `${rows.filter((figureRow) => figureRow.standing === standing).length} ${standing}`,
  );
  return `Of ${rows.length} different figures, ${counts.join(', ')}.`;
}

export function sciencePage(read: ReadSource): string {
  const [wax, otherGroups] = [waxFigures(), otherFigures()];
  return `<!-- Written by scripts/make-science.ts from the data and the docstrings: change those, then run it. -->

# The science

What Waxwarden computes, by which formulas, from which figures, and how far each can be trusted.

It informs; it does not protect, and it gives no clinical advice. Hot wax burns, and its vapour can ignite. A heater needs its own thermal cut-out and a person nearby; makers' instructions, the local fire and electrical code and licensed practice come first.

Every figure has a **standing**: *published* was read in the named standard, paper or text, or in an abstract of it, and the source says which; *from memory* is believed to be in the named publication and was not read there; *common practice* is usual or assumed, without a publication; *maker's sheet* was typed in from the sheet of a lot; *lab's own* was set by the lab. What is computed from several figures stands on the weakest.

${CHAPTERS.map(({ title }) => `- [${title}](#${anchor(title)})`).join('\n')}
- [Figures of the wax classes](#figures-of-the-wax-classes)
- [Other figures](#other-figures)

${CHAPTERS.map((chapter) => chapterText(chapter, read)).join('\n\n')}

## Figures of the wax classes

${countOf(wax)} A lab can override each of them by its name in the code; it is then *lab's own* on every screen and sheet.

${wax.map(groupText).join('\n\n')}

## Other figures

${otherGroups.map(groupText).join('\n\n')}
`.replaceAll(/\n{3,}/g, '\n\n');
}
