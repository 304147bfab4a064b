// The lab's own figures of wax classes, gathered over the stations of a case. One class has one set of figures for the
// whole site; what contradicts another station, or the class itself, is left out and listed.

import type { Lab } from '../../lab/lab.ts';
import { checkedWaxClass, waxClass, type WaxOverrides } from '../../wax/wax-class.ts';
import type { WaxClassId } from '../../wax/classes/wax-class-id.ts';

export interface WaxFigures {
  /** All of them or none. */
  readonly enter: (wax: WaxClassId, figures: WaxOverrides, station: string) => void;
  /** Raises a limit of the class where the station is above it; the station keeps its own lower one. */
  readonly atLeast: (wax: WaxClassId, name: 'ceiling' | 'storageMax', value: number, station: string) => void;
  readonly overrides: () => Lab['waxOverrides'];
}

export function waxFigures(
  refused: (station: string, fact: string, value: WaxOverrides) => void,
): WaxFigures {
  const entered = new Map<WaxClassId, WaxOverrides>();
  const take = (wax: WaxClassId, figures: WaxOverrides, station: string): void => {
    const together = { ...entered.get(wax), ...figures };
    if (checkedWaxClass(wax, together).ok) entered.set(wax, together);
    else refused(station, `figures of ${wax} that contradict the class`, figures);
  };
  return {
    enter: (wax, figures, station) => {
      const before = entered.get(wax) ?? {};
      const differs = Object.entries(figures).some(
        ([name, value]) => before[name] !== undefined && before[name] !== value,
      );
      if (differs) refused(station, `figures of ${wax} of its own`, figures);
      else take(wax, figures, station);
    },
    atLeast: (wax, name, value, station) => {
      if (value > waxClass(wax, entered.get(wax))[name].value) take(wax, { [name]: value }, station);
    },
    overrides: () => Object.fromEntries(entered),
  };
}
