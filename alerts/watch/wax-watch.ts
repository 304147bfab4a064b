// The watch over the wax: entries in, findings and alarm changes out. A pure reducer; the same entries over the same
// lab give the same states, findings and alarms byte for byte, however they are cut into batches.

import type { Entry } from '../../lab/entry.ts';
import type { Lab } from '../../lab/lab.ts';
import { takeAct, takeSelfCheck } from './engine/acts.ts';
import { labPlan } from './engine/lab-plan.ts';
import { takePassingTime } from './engine/passing-time.ts';
import { patternOutlooks as outlooksOf } from './engine/patterns.ts';
import { takeReadings } from './engine/readings.ts';
import { standingOf } from './engine/station-status-of.ts';
import { allAlarms, editClock, editGateway, finishWork, startWork, type Work } from './engine/work.ts';
import type { Problem } from '../../wax/result.ts';
import type { PatternOutlook } from './measures/pattern-outlook.ts';
import type { Alarm } from './life/alarm.ts';
import type { Standing } from './engine/station-status.ts';
import type { Watch, WatchState, WatchStep } from './engine/watch.ts';

/** Many entries with one copy of each part they touch: what the pipeline should call. */
function stepAll(state: WatchState, entries: readonly Entry[], lab: Lab): WatchStep {
  const work = startWork(state, lab);
  for (const entry of entries) takeEntry(work, entry);
  return finishWork(work);
}

/** Time passes in the log every few seconds, in a simulated past every few minutes; a longer break is a stop. */
const ASLEEP_MILLIS = 900_000;

function takeEntry(work: Work, entry: Entry): void {
  const clock = editClock(work);
  if (entry.receivedAt - clock.now > ASLEEP_MILLIS) clock.awakeAt = entry.receivedAt;
  // Arrival never runs backwards for the watch, even when the machine's clock is set back.
  clock.now = Math.max(clock.now, entry.receivedAt);
  work.receivedAt = clock.now as Entry['receivedAt'];
  switch (entry.kind) {
    case 'readings':
      takeReadings(work, entry);
      break;
    case 'gateway': {
      const gateway = editGateway(work, entry.gateway);
      if (gateway.online !== entry.online) {
        gateway.online = entry.online;
        gateway.changedAt = work.receivedAt;
      }
      takePassingTime(work);
      break;
    }
    case 'tick':
      takePassingTime(work);
      break;
    case 'act':
      takeAct(work, entry.act);
      break;
    case 'self-check':
      takeSelfCheck(work, entry);
      break;
  }
}

const openAlarms = (state: WatchState): readonly Alarm[] =>
  [...allAlarms(state)].sort((a, b) => b.raisedAt - a.raisedAt || (a.id < b.id ? -1 : 1));

const standings = (state: WatchState, lab: Lab): readonly Standing[] =>
  [...labPlan(lab).stations.values()].map((plan) => standingOf(state, plan));

/** How every waiting pattern stands; those whose place has had no reading yet are left out. */
export const patternOutlooks = (state: WatchState, lab: Lab, asked?: string): readonly PatternOutlook[] =>
  outlooksOf(state, labPlan(lab), asked);

/** Settings of rules that were not taken; their defaults hold. */
export const ruleProblems = (lab: Lab): readonly Problem[] => labPlan(lab).problems;

export const waxWatch: Watch = {
  initial: () => ({}),
  step: (state, entry, lab) => stepAll(state, [entry], lab),
  stepAll,
  openAlarms,
  standings,
};
