// Whether another value of a figure makes a difference on one of the traces that are made for its place.

import type { Parameter } from '../../alerts/watch/rule/parameter.ts';
import type { KnownRule } from '../../alerts/watch/rules/all-rules.ts';
import { waxWatch } from '../../alerts/watch/wax-watch.ts';
import type { Lab } from '../../lab/lab.ts';
import type { FigurePlace, OwnFigures } from '../../lab/own-figures.ts';
import { burnsOut, heats, stores } from '../../lab/station-kinds.ts';
import { heaterTraces } from './heater-days.ts';
import { LAB_TRACES } from './lab-traces.ts';
import { furnaceTraces, placeTraces } from './place-days.ts';
import { probeTraces } from './probe-traces.ts';
import type { Trace } from './trace.ts';

type State = ReturnType<typeof waxWatch.initial>;
type Findings = ReturnType<typeof waxWatch.stepAll>['findings'];

const tracesAt = (place: FigurePlace): readonly Trace[] => {
  if (place === 'lab') return LAB_TRACES;
  return [
    ...(heats(place) ? heaterTraces(place) : []),
    ...(stores(place) ? placeTraces(place) : []),
    ...(burnsOut(place) ? furnaceTraces(place) : []),
    ...probeTraces(place),
  ];
};

const withFigures = (lab: Lab, place: FigurePlace, figures: OwnFigures): Lab => {
  if (place === 'lab') return { ...lab, site: { ...lab.site, rules: figures } };
  return { ...lab, stations: lab.stations.map((station) => ({ ...station, rules: figures })) };
};

/** The watch at the end of the days before: they are lived through once. */
const learned = new Map<Trace['before'], State>();
const stateBefore = ({ before, lab }: Trace): State => {
  const state = learned.get(before) ?? waxWatch.stepAll(waxWatch.initial(), before, lab).state;
  learned.set(before, state);
  return state;
};

const lived = (trace: Trace, place: FigurePlace, figures: OwnFigures): Findings => {
  const { lab, entries, afterwards } = trace;
  const { state, findings } = waxWatch.stepAll(stateBefore(trace), entries, withFigures(lab, place, figures));
  if (afterwards === undefined) return findings;
  return [
    ...findings,
    ...waxWatch.stepAll(state, afterwards.entries, withFigures(afterwards.lab, place, figures)).findings,
  ];
};

/** What was reported of the rule, when and how; the numbers beside it would repeat the figure itself. */
const outcome = (findings: Findings, { kind }: KnownRule): string =>
  JSON.stringify(
    findings
      .filter(({ rule }) => rule === kind)
      .map(({ at, phase, subject, evidence }) => [
        at,
        phase,
        subject,
        Object.values(evidence).filter((value) => typeof value === 'string'),
      ]),
  );

interface Witnessed {
  readonly trace: Trace;
  readonly findings: Findings;
}
const witnessed = new Map<FigurePlace, readonly Witnessed[]>();
/** What is raised on each trace of the place with the figures as they ship; worked out once. */
export const asItShips = (place: FigurePlace): readonly Witnessed[] => {
  const all =
    witnessed.get(place) ??
    tracesAt(place).map((trace) => ({ trace, findings: lived(trace, place, trace.figures ?? {}) }));
  witnessed.set(place, all);
  return all;
};

const valuesOf = ({ default: usual, low, high }: Parameter): readonly number[] =>
  [
    low,
    high,
    (usual + low) / 2,
    (usual + high) / 2,
    usual + (high - usual) / 8,
    usual - (usual - low) / 8,
  ].filter((value) => value !== usual);

/** The name of the trace on which another value of the figure makes a difference; null where none does. */
export const traceThatShows = (
  rule: KnownRule,
  figure: string,
  parameter: Parameter,
  place: FigurePlace,
): string | null => {
  const mentions = ({ findings }: Witnessed): number =>
    Number(findings.some(({ rule: kind }) => kind === rule.kind));
  const likeliest = [...asItShips(place)].sort((a, b) => mentions(b) - mentions(a));
  for (const { trace, findings } of likeliest) {
    const usual = outcome(findings, rule);
    for (const value of valuesOf(parameter)) {
      const own = { ...trace.figures?.[rule.kind], [figure]: value };
      const changed = lived(trace, place, { ...trace.figures, [rule.kind]: own });
      if (outcome(changed, rule) !== usual) return trace.name;
    }
  }
  return null;
};
