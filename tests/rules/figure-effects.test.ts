// Every figure of every rule, at every place where it is offered: changed within its bounds it changes what is raised, or
// when, on one of the traces that are made for it. A setting without effect fails here.

import { beforeAll, describe, expect, it } from 'vitest';
import { ALL_RULES } from '../../alerts/watch/rules/all-rules.ts';
import { placesOf } from '../../alerts/watch/rules/rules-by-place.ts';
import type { FigurePlace } from '../../lab/own-figures.ts';
import { STATION_KIND_FACTS, STATION_KINDS } from '../../lab/station-kinds.ts';
import { witnessUnchanged, traceThatShows } from '../figure-traces/trace-that-shows.ts';

/** Kinds with one row of facts between them are one kind: nothing branches on the name of a kind. */
const KINDS = STATION_KINDS.filter(
  (kind, index) =>
    STATION_KINDS.findIndex((first) => STATION_KIND_FACTS[first] === STATION_KIND_FACTS[kind]) === index,
);
const PLACES: readonly FigurePlace[] = [...KINDS, 'lab'];

/** A figure without effect is tried on every trace before it is called so. */
const LONGEST_MILLIS = 120_000;

describe.each(PLACES)('at %s', (place) => {
  beforeAll(() => void witnessUnchanged(place));
  const figures = ALL_RULES.flatMap((rule) =>
    Object.entries(rule.parameters)
      .filter(([figure]) => placesOf(rule, figure).includes(place))
      .map(([figure, parameter]) => ({ rule, kind: rule.kind, figure, parameter })),
  );
  it.each(figures)(
    'another $figure of $kind changes what is raised, or when',
    ({ rule, figure, parameter }) => {
      expect(traceThatShows(rule, figure, parameter, place)).not.toBeNull();
    },
    LONGEST_MILLIS,
  );
});
