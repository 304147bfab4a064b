// Set-up: what other figures of a rule would have raised at a station or at all of its kind, before they are saved. It
// changes nothing.

import { setImmediate as othersFirst } from 'node:timers/promises';
import { RULE_KINDS, type RuleKind, RULES } from '../../../../alerts/watch/rules/all-rules.ts';
import { RULES_BY_PLACE } from '../../../../alerts/watch/rules/rules-by-place.ts';
import { isNotice } from '../../../../alerts/watch/rule/rule.ts';
import { countDifferences } from '../../../../alerts/watch/replay/compare-raised.ts';
import { type Raised, findRaised } from '../../../../alerts/watch/replay/replay.ts';
import { stationsOnTrial, type Trial, trialInSlices } from '../../../../alerts/watch/replay/trial.ts';
import type { Lab } from '../../../../lab/lab.ts';
import { ownFigureProblems } from '../../../../lab/lab-file/own-figure-checks.ts';
import type { Station } from '../../../../lab/station.ts';
import { TrialBody, TrialView } from '../../../api/trial.ts';
import type { App } from '../../base/app.ts';
import { fieldOf, fieldProblem, HttpProblem } from '../../base/problem.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { describeRoute } from '../common/describe-route.ts';
import { requireStation, StationId } from '../common/station-of-request.ts';
import { orStoreAway } from '../common/store-away.ts';
import { type TrialPast, trialPast } from './trial-past.ts';
import { iso } from '../../../../wax/iso.ts';

const MOST_BEGINNINGS = 100;
const MOST_CHANGES = 100_000;

const requireRule = (name: string): RuleKind => {
  const kind = RULE_KINDS.find((each) => each === name);
  if (kind !== undefined) return kind;
  throw fieldProblem('/body/rule', 'unknown-rule', { id: name });
};

const refuseWrongFigures = (
  station: Station,
  rule: RuleKind,
  values: Readonly<Record<string, number>>,
): void => {
  const problems = ownFigureProblems({ [rule]: values }, RULES_BY_PLACE, station.kind, []);
  if (problems.length === 0) return;
  throw new HttpProblem('wrong-request', {
    errors: problems.map(({ path: [, figure], ...problem }) =>
      fieldOf(figure === undefined ? '/body/rule' : `/body/values/${figure}`, problem),
    ),
  });
};

/** How often it was really raised there in that time; null for a rule that raises no alarm. */
function findRecorded(
  running: RunningLab,
  { from, to }: TrialPast,
  rule: RuleKind,
): readonly Raised[] | null {
  if (isNotice(RULES[rule])) return null;
  const changes = running.alarmChangesBetween(from, to, MOST_CHANGES);
  return findRaised(changes).filter((raised) => raised.rule === rule && raised.from >= from);
}

const stationsOf = (running: RunningLab, station: Station, isEveryOfKind: boolean): readonly Station[] =>
  isEveryOfKind ? running.lab().stations.filter(({ kind }) => kind === station.kind) : [station];

/** Findings about a probe count at the station that it belongs to. */
function countAt(lab: Lab, station: string, raised: readonly Raised[]): number {
  const probes = lab.probes.filter((probe) => probe.station === station).map(({ id }) => id);
  return raised.filter(({ subject }) => subject === station || probes.includes(subject)).length;
}

/** A month takes seconds; the live line and acknowledgements must not wait for it. */
const inPauses = async (work: Generator<undefined, Trial>): Promise<Trial> => {
  for (;;) {
    const step = work.next();
    if (step.done === true) return step.value;
    await othersFirst();
  }
};

export const trialRoutes = (app: App, { running }: ServerContext): void => {
  app.post(
    '/api/stations/:id/trial',
    describeRoute(
      'set-up-lab',
      'set-up',
      'What other figures of a rule would have raised here, or at all stations of this kind, in the last days',
      {
        description:
          'The newest readings, with what people did meanwhile, go through the rules twice: as the lab is, and with the ' +
          'figures of the body; the other stations too where the rule looks around in the lab. Beside it is what was ' +
          'really raised in that time; ' +
          'it differs where other figures or another wax held then, and while the replay still learns what is usual. ' +
          'Nothing is changed; the figures are saved with the station.',
        params: StationId,
        body: TrialBody,
        response: { 200: TrialView },
      },
    ),
    async (request) => {
      const station = requireStation(running, request.params.id);
      const rule = requireRule(request.body.rule);
      const { every_station_of_kind: isEveryOfKind = false, values } = request.body;
      const stations = stationsOf(running, station, isEveryOfKind);
      for (const each of stations) refuseWrongFigures(each, rule, values);
      const ids = stations.map(({ id }) => id);
      const lab = running.lab();
      const change = { stations: ids, rule, values };
      const past = await orStoreAway(trialPast(running, stationsOnTrial(lab, change)));
      const trial = await inPauses(trialInSlices(past.entries, past.labAt, change));
      const recorded = findRecorded(running, past, rule);
      const rows = ids.map((id) => ({
        station: id,
        recorded: recorded && countAt(lab, id, recorded),
        before: countAt(lab, id, trial.before),
        after: countAt(lab, id, trial.after),
      }));
      const { same: _, ...counts } = countDifferences(trial.differences);
      return {
        days: past.days,
        readings: past.readings,
        recorded: recorded && rows.reduce((sum, row) => sum + (row.recorded ?? 0), 0),
        before: trial.before.length,
        after: trial.after.length,
        ...counts,
        beginnings: trial.after.slice(-MOST_BEGINNINGS).map(({ from }) => iso(from)),
        stations: rows,
      };
    },
  );
};
