// The lab of a case, entered as a lab would: only what the product lets a lab set; every other figure is the default.
// What the case holds and no setting takes is kept beside it.

import type { CaseStation, LabelledCase } from '../../simulators/cases/case.ts';
import type { Charge } from '../../lab/charge.ts';
import type { Lab } from '../../lab/lab.ts';
import { highestOwnCeiling } from '../../lab/limits.ts';
import { PERSON_DEFAULTS, UNCERTAINTY_UNTIL_CALIBRATED } from '../../lab/lab-file/lab-file-defaults.ts';
import type { Pattern } from '../../lab/pattern.ts';
import type { Station } from '../../lab/station.ts';
import { heats, holdsMeltedWax, isThermostatic, type StationKind, stores } from '../../lab/station-kinds.ts';
import type { WaxClassId } from '../../wax/classes/wax-class-id.ts';
import { siteHours, worksByHours } from './case-hours.ts';
import { kindInWords, waxInWords } from './words.ts';
import { waxFigures, type WaxFigures } from './wax-figures.ts';

/** A fact of the case that the product has no setting for. */
export interface WithoutSetting {
  readonly station: string;
  readonly fact: string;
  readonly value: string;
}

export interface CaseLab {
  readonly lab: Lab;
  readonly withoutSetting: readonly WithoutSetting[];
}

type Lacks = (station: string, fact: string, value: unknown) => void;

export const TECHNICIAN = 'technician';

/** A pot is set to work at one temperature; its window is drawn about it. Common practice, no source. */
const WINDOW_ABOUT_SET_KELVIN = 5;
/** A case does not hold how much is in a pot, and no rule needs it. */
const CHARGE_GRAMS = 500;
/** What waits on a storage station: a crown, well within its tolerance for weeks. */
const CROWN = { technique: 'dipped', length_millimetres: 8, tolerance_micrometres: 80 } as const;

export function caseLab(labelled: LabelledCase): CaseLab {
  const withoutSetting: WithoutSetting[] = [];
  const lacks: Lacks = (station, fact, value) => {
    withoutSetting.push({ station, fact, value: JSON.stringify(value) });
  };
  const figures = waxFigures(lacks);
  const watched = labelled.stations.flatMap((described) => {
    const kind = kindInWords(described.kind);
    if (kind == null) {
      lacks(described.id, 'kind', described.kind);
      return [];
    }
    return [{ described, kind, wax: waxInWords(described.wax, kind) }];
  });
  const stations = watched.map(({ described, kind, wax }) => {
    enterWaxFigures(described, kind, wax, figures);
    keepBeside(described, labelled, lacks);
    return stationOf(described, kind, wax);
  });
  const ids = new Set(stations.map(({ id }) => id));
  const begins = new Date(labelled.starts).toISOString();
  const lab: Lab = {
    site: {
      id: 'case',
      name: labelled.name,
      timeZone: labelled.timeZone,
      workingHours: siteHours(labelled.stations),
      holidays: [],
      // No case holds when a pattern was made, so no clock runs on it.
      patternCare: { standing_minutes: 0 },
    },
    stations,
    probes: labelled.stations.flatMap(({ id: station, probes }) =>
      probes.map(({ id, gateway }) => ({
        id,
        gateway,
        station: ids.has(station) ? station : null,
        correction_celsius: 0,
        uncertainty_celsius: UNCERTAINTY_UNTIL_CALIBRATED,
      })),
    ),
    charges: watched.flatMap(({ described, kind, wax }) => chargeOf(described, kind, wax)),
    patterns: watched.flatMap(({ described, kind, wax }) => patternAt(described, kind, wax, begins)),
    people: [{ ...PERSON_DEFAULTS, id: TECHNICIAN, name: 'Technician', role: 'technician' }],
    waxOverrides: figures.overrides(),
  };
  return { lab: withAllowedCeilings(lab, lacks), withoutSetting };
}

/** A station may have a ceiling below that of its wax, never above it. */
function withAllowedCeilings(lab: Lab, lacks: Lacks): Lab {
  const stations = lab.stations.map((station) => {
    const { ceiling_celsius: own, ...others } = station;
    const most = highestOwnCeiling(station, lab);
    if (own === undefined || most === null || own <= most) return station;
    lacks(station.id, 'ceiling_celsius', own);
    return others;
  });
  return { ...lab, stations };
}

function enterWaxFigures(
  {
    id,
    melting_range_celsius: melting,
    ceiling_celsius: ceiling,
    high_celsius: high,
    ...described
  }: CaseStation,
  kind: StationKind,
  wax: WaxClassId | null,
  figures: WaxFigures,
): void {
  if (wax === null) return;
  if (stores(kind)) {
    if (high !== undefined) figures.atLeast(wax, 'storageMax', high, id);
    return;
  }
  if (melting !== undefined)
    figures.enter(wax, { 'melting.low': melting[0], 'melting.high': melting[1] }, id);
  if (ceiling != null) figures.atLeast(wax, 'ceiling', ceiling, id);
  const allowance = described.charge_limit_equivalent_hours_at_70_celsius;
  if (allowance !== undefined && holdsMeltedWax(kind))
    figures.enter(wax, { 'kinetics.reference': 70, doseAllowance: allowance }, id);
}

function keepBeside(station: CaseStation, { starts }: LabelledCase, lacks: Lacks): void {
  if (station.set_celsius !== null) lacks(station.id, 'set_celsius', station.set_celsius);
  if (station.charge_since !== undefined && Date.parse(station.charge_since) < starts)
    lacks(station.id, 'heat of the charge before the case', station.charge_since);
}

function windowOf({
  window_celsius: window,
  set_celsius: set,
  ceiling_celsius: ceiling,
}: CaseStation): readonly [number, number] | undefined {
  if (window !== undefined) return window;
  if (set === null) return undefined;
  const high = Math.min(set + WINDOW_ABOUT_SET_KELVIN, ceiling ?? Number.POSITIVE_INFINITY);
  return [set - WINDOW_ABOUT_SET_KELVIN, high];
}

/** The limits of a storage place, both ends. */
function storageWindow({
  low_celsius: low,
  high_celsius: high,
}: CaseStation): readonly [number, number] | undefined {
  return low === undefined || high === undefined ? undefined : [low, high];
}

function stationOf(described: CaseStation, kind: StationKind, wax: WaxClassId | null): Station {
  const { id, ceiling_celsius: ceiling } = described;
  const window = stores(kind) ? storageWindow(described) : windowOf(described);
  const rules = ruleFigures(described, kind);
  return {
    id,
    name: id,
    kind,
    wax,
    ...(window !== undefined && { window_celsius: window }),
    ...(ceiling != null && heats(kind) && { ceiling_celsius: ceiling }),
    ...(described.ready_by !== null && isThermostatic(kind) && { ready_by: described.ready_by }),
    ...(Object.keys(rules).length > 0 && { rules }),
  };
}

function ruleFigures(described: CaseStation, kind: StationKind): NonNullable<Station['rules']> {
  const { soak_minutes: soak, uneven_limit_kelvin: uneven, swing_limit_kelvin_in_24_h: swing } = described;
  return {
    ...(swing !== undefined && {
      'storage-swing': { limit_celsius_difference: swing },
      'night-swing': { limit_celsius_difference: swing },
    }),
    ...(uneven !== undefined && { 'uneven-annealer': { limit_celsius_difference: uneven } }),
    ...(soak !== undefined && {
      'soak-ready': { needed_minutes: soak },
      'soak-incomplete': { needed_minutes: soak },
    }),
    // A heater that is meant to be on day and night is marked so at the one rule that needs it.
    ...(heats(kind) && !worksByHours(described) && { 'left-on': { enabled: false } }),
  };
}

const chargeOf = (
  { id, charge_since: since }: CaseStation,
  kind: StationKind,
  wax: WaxClassId | null,
): readonly Charge[] =>
  since === undefined || wax === null || !holdsMeltedWax(kind)
    ? []
    : [
        {
          id: `charge-${id}`,
          station: id,
          wax,
          grams: CHARGE_GRAMS,
          startedAt: since,
          topUps: [],
          cleanedAt: null,
          endedAt: null,
        },
      ];

const patternAt = (
  { id, wax: words }: CaseStation,
  kind: StationKind,
  wax: WaxClassId | null,
  begins: string,
): readonly Pattern[] =>
  !stores(kind) || wax === null || !/pattern/i.test(words)
    ? []
    : [
        {
          ...CROWN,
          id: `pattern-${id}`,
          caseReference: id,
          wax,
          madeAt: begins,
          madeBy: TECHNICIAN,
          stays: [{ station: id, from: begins, to: null }],
          fate: null,
        },
      ];
