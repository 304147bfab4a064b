// A JSON text as a value. A name that appears twice in one object is refused: which of the two was meant is not known,
// and a parser that takes the last one would take a temperature on trust (RFC 8259, section 4: behaviour unpredictable).

/**
 * @throws Error with a reason for what is no JSON or names a member twice
 * @example parseUnambiguousJson('{"v":61.5,"v":20}') // throws
 */
export function parseUnambiguousJson(text: string): unknown {
  const value: unknown = JSON.parse(text);
  if (namesIn(text) !== membersOf(value)) throw new Error('a name appears twice in one object');
  return value;
}

const QUOTE = 0x22;
const COLON = 0x3a;
const BACKSLASH = 0x5c;
const SPACE = 0x20;

/** How many names of members are written in a valid text: strings with a colon behind them. */
function namesIn(text: string): number {
  let names = 0;
  for (let start = text.indexOf('"'); start !== -1; ) {
    let end = text.indexOf('"', start + 1);
    while (end !== -1 && isEscaped(text, end)) end = text.indexOf('"', end + 1);
    if (end === -1) return names;
    let next = end + 1;
    while (text.charCodeAt(next) <= SPACE) next += 1;
    if (text.charCodeAt(next) === COLON) names += 1;
    start = text.charCodeAt(next) === QUOTE ? next : text.indexOf('"', next);
  }
  return names;
}

/** Behind an odd number of backslashes. */
function isEscaped(text: string, quote: number): boolean {
  let before = quote - 1;
  while (text.charCodeAt(before) === BACKSLASH) before -= 1;
  return (quote - before) % 2 === 0;
}

/** Of all objects in it; without recursion, because a hostile text may be nested as deep as it is long. */
function membersOf(value: unknown): number {
  let members = 0;
  const open: unknown[] = [value];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    if (typeof next !== 'object' || next === null) continue;
    const inside: readonly unknown[] = Array.isArray(next) ? next : Object.values(next);
    if (!Array.isArray(next)) members += inside.length;
    for (const item of inside) if (typeof item === 'object' && item !== null) open.push(item);
  }
  return members;
}
