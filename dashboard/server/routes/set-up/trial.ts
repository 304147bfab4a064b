// Set-up: what other figures of a rule would have raised at a station, before they are saved. It changes nothing.

import { setImmediate as othersFirst } from 'node:timers/promises';
import { RULE_KINDS, type RuleKind } from '../../../../alerts/watch/rules/all-rules.ts';
import { RULES_BY_PLACE } from '../../../../alerts/watch/rules/rules-by-place.ts';
import { type Trial, trialInSlices } from '../../../../alerts/watch/trial.ts';
import { ownFigureProblems } from '../../../../lab/own-figure-checks.ts';
import type { Reading } from '../../../../lab/reading.ts';
import type { Station } from '../../../../lab/station.ts';
import { STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import { celsius, epochMillis, MILLIS_PER_DAY, MILLIS_PER_MINUTE } from '../../../../wax/units.ts';
import { TrialBody, TrialView } from '../../../api/trial.ts';
import type { App } from '../../base/app.ts';
import { iso } from '../../base/instant.ts';
import { fieldOf, fieldProblem, HttpProblem } from '../../base/problem.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { answers } from '../common/answers.ts';
import { knownStation, StationId } from '../common/known-station.ts';
import { orStoreAway } from '../common/store-away.ts';

const DAYS = 30;
const MOST_BEGINNINGS = 100;
const MINUTES = (DAYS * MILLIS_PER_DAY) / MILLIS_PER_MINUTE;

const knownRule = (name: string): RuleKind => {
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

/** One value a minute: the highest at a heater, where a peak harms; the mean elsewhere. */
const pastOf = async (running: RunningLab, station: Station): Promise<readonly Reading[]> => {
  const takesHottest = STATION_KIND_FACTS[station.kind].combinesProbes === 'hottest';
  const to = running.now();
  const from = epochMillis(to - DAYS * MILLIS_PER_DAY);
  const probes = running.lab().probes.filter((probe) => probe.station === station.id);
  const series = await Promise.all(
    probes.map(async ({ id }): Promise<readonly Reading[]> => {
      const buckets = await running.store.buckets({ probe: id, from, to, points: MINUTES + 2 });
      return buckets.map((bucket) => ({
        probe: id,
        at: bucket.at,
        celsius: celsius(takesHottest ? bucket.max : bucket.mean),
        quality: 'good',
      }));
    }),
  );
  return series.flat();
};

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
    {
      config: { needs: 'set-up-lab' },
      schema: {
        tags: ['set-up'],
        summary: 'What other figures of a rule would have raised here in the last thirty days',
        description:
          'The readings of the last thirty days, one a minute, go through the rules twice: as the lab is, and with the ' +
          'figures of the body. Charges, pauses and loads that people entered are not rehearsed. Nothing is changed; ' +
          'the figures are saved with the station.',
        params: StationId,
        body: TrialBody,
        response: answers(TrialView),
      },
    },
    async (request) => {
      const station = knownStation(running, request.params.id);
      const rule = knownRule(request.body.rule);
      refuseWrongFigures(station, rule, request.body.values);
      const readings = await orStoreAway(pastOf(running, station));
      const change = { station: station.id, rule, values: request.body.values };
      const trial = await inPauses(trialInSlices(readings, running.lab(), change));
      return {
        days: DAYS,
        minutes: readings.length,
        before: trial.before,
        after: trial.after,
        beginnings: trial.beginnings.slice(-MOST_BEGINNINGS).map(iso),
      };
    },
  );
};
