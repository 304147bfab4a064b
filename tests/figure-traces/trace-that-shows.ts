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

/** So many entries are lived through before somebody looks whether that is enough. */
const STRETCH = 100;

function* lived(trace: Trace, place: FigurePlace, figures: OwnFigures): Generator<Findings> {
  let state = stateBefore(trace);
  for (const { lab, entries } of trace.afterwards === undefined ? [trace] : [trace, trace.afterwards]) {
    const own = withFigures(lab, place, figures);
    for (let from = 0; from < entries.length; from += STRETCH) {
      const step = waxWatch.stepAll(state, entries.slice(from, from + STRETCH), own);
      state = step.state;
      yield step.findings;
    }
  }
}

/** What was reported of the rule, when and how; the numbers beside it would repeat the figure itself. */
const reportsOf = (findings: Findings, { kind }: KnownRule): readonly string[] =>
  findings
    .filter(({ rule }) => rule === kind)
    .map(({ at, phase, subject, evidence }) =>
      JSON.stringify([
        at,
        phase,
        subject,
        Object.values(evidence).filter((value) => typeof value === 'string'),
      ]),
    );

/** Whether other things are reported of the rule; lived through no further than the first of them. */
const differs = (usual: readonly string[], findings: Iterable<Findings>, rule: KnownRule): boolean => {
  let same = 0;
  for (const some of findings)
    for (const report of reportsOf(some, rule)) {
      if (report !== usual[same]) return true;
      same += 1;
    }
  return same < usual.length;
};

interface Witnessed {
  readonly trace: Trace;
  readonly findings: Findings;
}
const witnessed = new Map<FigurePlace, readonly Witnessed[]>();
/** What is raised on each trace of the place with the figures as they ship; worked out once. */
export const witnessUnchanged = (place: FigurePlace): readonly Witnessed[] => {
  const all =
    witnessed.get(place) ??
    tracesAt(place).map((trace) => ({
      trace,
      findings: [...lived(trace, place, trace.figures ?? {})].flat(),
    }));
  witnessed.set(place, all);
  return all;
};

/** The bounds first: what a figure does, they show most often. */
const valuesOf = ({ default: usual, low, high }: Parameter): readonly (readonly number[])[] =>
  [
    [low, high],
    [(usual + low) / 2, (usual + high) / 2, usual + (high - usual) / 8, usual - (usual - low) / 8],
  ].map((values) => values.filter((value) => value !== usual));

/** The name of the trace on which another value of the figure makes a difference; null where none does. */
export const traceThatShows = (
  rule: KnownRule,
  figure: string,
  parameter: Parameter,
  place: FigurePlace,
): string | null => {
  const all = witnessUnchanged(place);
  const reporting = all.filter(({ findings }) => findings.some(({ rule: kind }) => kind === rule.kind));
  const silent = all.filter((witnessed) => !reporting.includes(witnessed));
  for (const traces of [reporting, silent])
    for (const values of valuesOf(parameter))
      for (const { trace, findings } of traces) {
        const usual = reportsOf(findings, rule);
        for (const value of values) {
          const own = { ...trace.figures?.[rule.kind], [figure]: value };
          const changed = lived(trace, place, { ...trace.figures, [rule.kind]: own });
          if (differs(usual, changed, rule)) return trace.name;
        }
      }
  return null;
};
