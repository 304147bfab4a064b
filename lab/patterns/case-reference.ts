// The reference of a case is a number or a code of the lab, never a person's name; this only warns. There is no list of names: what
// has no digit, or two words in a row that begin like names, is doubted.

/** As names begin, or are typed in capitals; shorter capitals are codes of the trade. */
const CAPITALISED = /^(\p{Lu}['’]?\p{L}[\p{Ll}'’-]+|\p{Lu}[\p{Lu}'’-]{3,})$/u;

/**
 * @example looksLikeName('Anna Berger') // true
 * @example looksLikeName('AB-1042 crown 26') // false
 */
export function looksLikeName(reference: string): boolean {
  const words = reference.split(/[\s,;./]+/).filter((word) => word !== '');
  const isNamed = words.map((word) => CAPITALISED.test(word));
  if (isNamed.some((named, index) => named && isNamed[index + 1] === true)) return true;
  return isNamed.some(Boolean) && !/\d/.test(reference);
}
