// What the science page consists of: path from the root and content, so that writing and checking agree.

import { figureSvg } from './line-chart.ts';
import { type ReadSource, sciencePage } from './page.ts';
import { PLOTS } from './plots.ts';

export const scienceFiles = (
  read: ReadSource,
): readonly { readonly path: string; readonly content: string }[] => [
  { path: 'docs/science.md', content: sciencePage(read) },
  ...Object.entries(PLOTS).map(([name, figure]) => ({
    path: `docs/science/${name}.svg`,
    content: figureSvg(figure()),
  })),
];
