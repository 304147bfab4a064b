// Where a long word of a name may be broken, by its syllables: a line then ends with a hyphen and not in the middle of one.
// For compounds without a space, as German has them. Browsers have no dictionaries of their own on many machines, and one
// would weigh more than the wall. Pure.

/** Shorter words are never broken. */
const LONG_LETTERS = 12;
/** Letters that stay together at either end. */
const END_LETTERS = 3;

/** Vowels that are together make one syllable here; the consonants between two of them are shared out. */
const BETWEEN_VOWELS = /(?<=[aeiouyäöü])[bcdfghjklmnpqrstvwxzß]+(?=[aeiouyäöü])/giu;
/** What a syllable can begin with besides one consonant; the longest first. */
const BEGINNING =
  /(?:schr|schl|schm|schn|schw|spr|spl|pfr|pfl|sch|ch|ck|ph|th|sp|pf|zw|[bdfgkptvw]r|[bfgkp]l|kn|gn|qu)$/iu;
/** So after other consonants, as in "Arbeitsstelle"; alone the two are parted, as in "Fenster". */
const BEGINNING_AFTER_MORE = /(?<=.{2})str?$/iu;

const beginningOf = (consonants: string): number =>
  BEGINNING_AFTER_MORE.exec(consonants)?.[0].length ?? BEGINNING.exec(consonants)?.[0].length ?? 1;

/**
 * The parts of a word between which a line may end.
 * @example wordParts('Musterschrank') // ['Mus', 'ter', 'schrank']
 */
export const wordParts = (word: string): readonly string[] => {
  if (word.length < LONG_LETTERS) return [word];
  const breaks = [...word.matchAll(BETWEEN_VOWELS)]
    .map(({ index, 0: consonants }) => index + consonants.length - beginningOf(consonants))
    .filter((at) => at >= END_LETTERS && at <= word.length - END_LETTERS);
  return [0, ...breaks].map((from, part) => word.slice(from, breaks[part]));
};

const SOFT_HYPHEN = '\u{ad}';

/** The name with soft hyphens, for a browser to break it. */
export const withSoftHyphens = (name: string): string =>
  name
    .split(' ')
    .map((word) => wordParts(word).join(SOFT_HYPHEN))
    .join(' ');
