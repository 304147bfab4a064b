// Moves through spells in time and returns what holds at each instant.

import { QUIET, type HeatInput } from '../physics/station-model.ts';
import type { Spell } from '../days/spell.ts';

type Changing = { -readonly [K in keyof HeatInput]: HeatInput[K] };

export interface SpellCursor {
  /** The input for the step that begins at `at`; the object is the same each time. */
  readonly inputAt: (at: number) => Changing;
  /** Whether something happens before `at`. */
  readonly changesBefore: (at: number) => boolean;
}

export const spellCursor = (spells: readonly Spell[]): SpellCursor => {
  const ordered = spells.map((spell, order) => ({ ...spell, order }));
  const lasting = ordered.filter(({ from, to }) => to > from).sort((a, b) => a.from - b.from);
  const moments = ordered.filter(({ from, to }) => to <= from).sort((a, b) => a.from - b.from);
  const input: Changing = { ...QUIET };
  let active: typeof lasting = [];
  let nextLasting = 0;
  let nextMoment = 0;
  let changesAt = Number.NEGATIVE_INFINITY;
  let wasMoment = false;

  const moment = () => moments[nextMoment]?.from ?? Number.POSITIVE_INFINITY;

  return {
    changesBefore: (at) => changesAt < at || moment() < at,
    inputAt: (at) => {
      if (at < changesAt && moment() > at && !wasMoment) return input;
      active = active.filter(({ to }) => to > at);
      for (let next = lasting[nextLasting]; next && next.from <= at; next = lasting[nextLasting]) {
        if (next.to > at) active.push(next);
        nextLasting += 1;
      }
      active.sort((a, b) => a.order - b.order);
      const { roomCelsius, outdoorsCelsius, sun } = input;
      Object.assign(input, QUIET, { roomCelsius, outdoorsCelsius, sun });
      for (const { set } of active) Object.assign(input, set);
      wasMoment = false;
      while (moment() <= at) {
        Object.assign(input, moments[nextMoment]?.set);
        nextMoment += 1;
        wasMoment = true;
      }
      changesAt = lasting[nextLasting]?.from ?? Number.POSITIVE_INFINITY;
      for (const { to } of active) changesAt = Math.min(changesAt, to);
      return input;
    },
  };
};
