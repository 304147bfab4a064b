// What the sources hold about themselves: the comment that a file opens with, and the docstrings of what it exports.

/** The opening comment as one paragraph. */
export function openingComment(source: string): string {
  const lines: string[] = [];
  for (const line of source.split('\n')) {
    if (!line.startsWith('//')) break;
    lines.push(line.replace(/^\/\/ ?/, ''));
  }
  return lines.join(' ');
}

export interface DocumentedName {
  readonly name: string;
  readonly text: string;
}

/** Exported functions and constants that carry a docstring, in the order of the file. */
export const documentedExports = (source: string): DocumentedName[] =>
  [...source.matchAll(/\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\nexport (?:const|function\*?) (\w+)/g)].map(
    ([, comment = '', name = '']) => ({
      name,
      text: comment
        .split('\n')
        .map((line) => line.replace(/^\s*\* ?/, '').trim())
        .filter((line) => line !== '')
        .join(' ')
        .replaceAll('@throws RangeError', 'Throws a RangeError')
        .replaceAll('@throws', 'Throws'),
    }),
  );
