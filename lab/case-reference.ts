// The reference of a case is a number or a code of the lab, never a person's name; this only warns. It knows no names: what
// has no digit, or two words in a row that begin like names, is doubted.

const CAPITALISED = /^\p{Lu}['’]?\p{L}[\p{Ll}'’-]+$/u;

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
