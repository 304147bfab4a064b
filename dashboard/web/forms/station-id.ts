// An id for a new station from its name: letters, digits and hyphens, at most 40, and none that is taken.

const LONGEST = 36;

export const stationId = (name: string, taken: readonly string[]): string => {
  const plain =
    name
      .replaceAll('ß', 'ss')
      .normalize('NFKD')
      .replace(/\p{M}/gu, '')
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-+|-+$/g, '')
      .slice(0, LONGEST) || 'station';
  if (!taken.includes(plain)) return plain;
  let number = 2;
  while (taken.includes(`${plain}-${number}`)) number += 1;
  return `${plain}-${number}`;
};
