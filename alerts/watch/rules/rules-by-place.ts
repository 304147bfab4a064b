// Which figures of which rules can be set where. Those about a station and its probes are set at the station, and only
// where they can have an effect by its kind; those about gateways, patterns and the program itself once for the lab.

import type { StationLimits } from '../../../lab/limits.ts';
import type { KnownRules, RulesByPlace } from '../../../lab/lab-file/own-figure-checks.ts';
import type { FigurePlace } from '../../../lab/own-figures.ts';
import { STATION_KIND_FACTS, STATION_KINDS, type StationKind } from '../../../lab/station-kinds.ts';
import type { WaxValue } from '../../../wax/wax-class.ts';
import { ALL_RULES, type KnownRule, RULES } from './all-rules.ts';

/** A limit that the lab may give a station of the kind; which temperature it is makes no difference here. */
const ANY_LIMIT: WaxValue = { value: 0, standing: "lab's own", source: { code: 'set-for-station' } };
const limitsOf = (kind: StationKind): StationLimits => ({
  windowLow: ANY_LIMIT,
  windowHigh: ANY_LIMIT,
  ceiling: STATION_KIND_FACTS[kind].ceiling === null ? null : ANY_LIMIT,
  storageMax: STATION_KIND_FACTS[kind].hasStorageLimit ? ANY_LIMIT : null,
});

function appliesAt(rule: KnownRule, kind: StationKind): boolean {
  const station = { id: kind, name: kind, kind, wax: null };
  if (rule.scope === 'station') return rule.appliesTo(station, limitsOf(kind));
  return rule.scope === 'probe' && (rule.appliesTo?.(station) ?? true);
}

const PLACES: readonly FigurePlace[] = [...STATION_KINDS, 'lab'];

/** Kinds of station at which the figure can have an effect, or `lab`; empty where the rule has no such figure. */
export const placesOf = (rule: KnownRule, figure: string): readonly FigurePlace[] => {
  if (rule.parameters[figure] === undefined) return [];
  if (rule.scope !== 'station' && rule.scope !== 'probe') return ['lab'];
  const isEffective = rule.figuresOnlyAt?.[figure] ?? (() => true);
  return STATION_KINDS.filter((kind) => appliesAt(rule, kind) && isEffective(kind));
};

/** The rules at the place, each with the figures that count there. */
const rulesAt = (place: FigurePlace): KnownRules =>
  Object.fromEntries(
    ALL_RULES.flatMap((rule) => {
      const figures = Object.entries(rule.parameters).filter(([name]) =>
        placesOf(rule, name).includes(place),
      );
      if (figures.length === 0) return [];
      return [
        [
          rule.kind,
          { mayBeSwitchedOff: rule.mayBeSwitchedOff, parameters: Object.fromEntries(figures) },
        ] as const,
      ];
    }),
  );

const BY_PLACE: ReadonlyMap<FigurePlace, KnownRules> = new Map(
  PLACES.map((place) => [place, rulesAt(place)]),
);

export const RULES_BY_PLACE: RulesByPlace = { all: RULES, at: (place) => BY_PLACE.get(place) ?? {} };
