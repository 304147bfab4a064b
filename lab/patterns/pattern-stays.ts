// Where a pattern lay, when it leaves the lab and comes back: the stays after an act, and after an act is taken back. An act
// may be entered late, so each is put where its time belongs and leaves later stays as they are. Pure.

import type { LifeAct, LifeActKind, Pattern, PatternStay } from '../pattern.ts';

type Stays = Pattern['stays'];

/** Done at the bench: whoever does one of these to a pattern that was sent away has it back. */
const AT_THE_BENCH: ReadonlySet<LifeActKind> = new Set([
  'returned',
  'formed',
  'margins-resealed',
  'seated-on-die',
  'off-die',
  'chilled',
  'back-at-room-temperature',
  'sprued',
]);
export const isAtTheBench = (kind: LifeActKind): boolean => AT_THE_BENCH.has(kind);

const covers = ({ from, to }: PatternStay, at: string): boolean =>
  Date.parse(from) <= Date.parse(at) && (to === null || Date.parse(at) < Date.parse(to));
const isLater = (first: string, second: string): boolean => Date.parse(first) > Date.parse(second);

/** The act is among the pattern's. @param station where it was laid on its return; absent: where it lay before */
export function staysWithAct({ stays }: Pattern, { kind, at }: LifeAct, station?: string): Stays {
  if (kind === 'sent-for-try-in') return stays.map((stay) => (covers(stay, at) ? { ...stay, to: at } : stay));
  if (!isAtTheBench(kind) || stays.some((stay) => covers(stay, at))) return stays;
  const earlier = stays.filter(({ from }) => !isLater(from, at));
  const later = stays.slice(earlier.length);
  const last = earlier.at(-1);
  if (last === undefined) return stays;
  return [...earlier, { station: station ?? last.station, from: at, to: later[0]?.from ?? null }, ...later];
}

/** As if the act had never been done. */
export function staysWithoutAct({ stays }: Pattern, { kind, at }: LifeAct): Stays {
  if (kind === 'sent-for-try-in') {
    const index = stays.findIndex(({ to }) => to === at);
    const [left, next] = [stays[index], stays[index + 1]];
    if (left === undefined) return stays;
    const isSamePlace = next?.station === left.station;
    const whole = { ...left, to: isSamePlace ? next.to : (next?.from ?? null) };
    return [...stays.slice(0, index), whole, ...stays.slice(index + (isSamePlace ? 2 : 1))];
  }
  const index = stays.findIndex(({ from }) => from === at);
  const before = stays[index - 1];
  const isReturn = isAtTheBench(kind) && before !== undefined && before.to !== null && isLater(at, before.to);
  return isReturn ? stays.filter((_, each) => each !== index) : stays;
}
