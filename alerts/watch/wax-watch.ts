// The watch over the wax: entries in, findings and alarm changes out. A pure reducer; the same entries over the same
// lab give the same states, findings and alarms byte for byte, however they are cut into batches.

import type { Entry } from '../../lab/entry.ts';
import type { Lab } from '../../lab/lab.ts';
import type { Problem } from '../../wax/result.ts';
import { epochMillis } from '../../wax/units.ts';
import { takeGone } from './engine/silence/gone-probes.ts';
import { forgetEndedIntents, takeAct, takeSelfCheck } from './engine/acts/acts.ts';
import { maintainAlarms } from './engine/findings/alarm-upkeep.ts';
import {
  allAlarms,
  type Draft,
  continueDraft,
  editAnyGateway,
  editClock,
  endDraft,
  startDraft,
} from './engine/state/draft.ts';
import { labPlan } from './engine/state/lab-plan.ts';
import { moveInstants } from './engine/state/move-instants.ts';
import { gatewayKey, type WatchState } from './engine/state/memory.ts';
import { announceWhatWas } from './engine/readings/late-readings.ts';
import {
  type AskedOutlook,
  passTimeForPatterns,
  patternOutlooks as outlooksOf,
} from './engine/findings/patterns.ts';
import { takeReadings } from './engine/readings/readings.ts';
import {
  announceSleep,
  evaluateOwnClock,
  NO_FINDING,
  noteSleep,
  takeTick,
} from './engine/silence/own-clock.ts';
import { evaluateSilence } from './engine/silence/silence.ts';
import type { StationStatus } from './engine/station-status.ts';
import { statusOf } from './engine/station-status-of.ts';
import type { Watch, WatchStep } from './engine/watch.ts';
import type { Alarm } from './life/alarm.ts';
import type { PatternOutlook } from './measures/pattern-outlook.ts';

/** Many entries with one copy of each part they touch: what the pipeline calls. */
const stepAll = (state: WatchState, entries: readonly Entry[], lab: Lab): WatchStep =>
  takeEntries(startDraft(state, lab), entries);

const advance = (ownState: WatchState, entries: readonly Entry[], lab: Lab): WatchStep =>
  takeEntries(continueDraft(ownState, lab), entries);

function takeEntries(draft: Draft, entries: readonly Entry[]): WatchStep {
  for (const entry of entries) takeEntry(draft, entry);
  const statuses: StationStatus[] = [];
  for (const id of draft.stations) {
    const plan = draft.plan.stations.get(id);
    if (plan !== undefined) statuses.push(statusOf(draft.parts, plan));
  }
  endDraft(draft);
  return {
    state: draft.parts,
    changedParts: [...draft.changed],
    findings: draft.findings,
    alarmChanges: draft.alarmChanges,
    refusals: draft.refusals,
    statuses,
  };
}

/** Time passes in the log every few seconds, in a simulated past every few minutes; a longer break is a stop. */
const ASLEEP_MILLIS = 900_000;
/** Entries that come by different ways may be out of order by less. */
const SET_BACK_MILLIS = 30_000;

function takeEntry(draft: Draft, entry: Entry): void {
  const setBack = editClock(draft).now - entry.receivedAt;
  // The machine's clock was set back: all that is remembered moves along, so that nothing stands still for that long.
  if (setBack > SET_BACK_MILLIS) moveInstants(draft, -setBack, entry.receivedAt);
  const clock = editClock(draft);
  const lastNow = clock.now;
  const { hasJumped, downSince } = entry.kind === 'tick' ? takeTick(draft, entry) : NO_FINDING;
  const asleepSince = entry.receivedAt - lastNow > ASLEEP_MILLIS ? lastNow : downSince;
  clock.now = Math.max(clock.now, entry.receivedAt);
  draft.receivedAt = epochMillis(clock.now);
  if (asleepSince !== null || hasJumped) clock.awakeAt = clock.now;
  if (asleepSince !== null && asleepSince > 0) noteSleep(draft, asleepSince);
  if (entry.kind === 'tick') announceSleep(draft, hasJumped);
  switch (entry.kind) {
    case 'readings':
      takeReadings(draft, entry);
      break;
    case 'gateway': {
      const gateway = editAnyGateway(draft, gatewayKey(entry.gateway));
      if (gateway.online !== entry.online) {
        gateway.online = entry.online;
        gateway.changedAt = draft.receivedAt;
      }
      takePassingTime(draft);
      break;
    }
    case 'probes-gone':
      takeGone(draft, entry);
      takePassingTime(draft);
      break;
    case 'tick':
      takePassingTime(draft);
      break;
    case 'act':
      takeAct(draft, entry.act);
      break;
    case 'self-check':
      takeSelfCheck(draft, entry);
      break;
  }
}

/** What time alone brings about; now is the arrival of the entry, never the machine's clock. */
function takePassingTime(draft: Draft): void {
  const moment = { at: draft.receivedAt, tense: 'now' as const, afterGap: false };
  evaluateOwnClock(draft, moment);
  evaluateSilence(draft, moment);
  announceWhatWas(draft);
  forgetEndedIntents(draft);
  maintainAlarms(draft, moment.at);
  passTimeForPatterns(draft, moment);
  if (draft.stations.size < draft.plan.stations.size)
    for (const id of draft.plan.stations.keys()) draft.stations.add(id);
}

const openAlarms = (state: WatchState): readonly Alarm[] =>
  [...allAlarms(state)].sort((a, b) => b.raisedAt - a.raisedAt || (a.id < b.id ? -1 : 1));

const statuses = (state: WatchState, lab: Lab): readonly StationStatus[] =>
  [...labPlan(lab).stations.values()].map((plan) => statusOf(state, plan));

/** The outlook of every waiting pattern, or of a single one, as of the last whole ten minutes or of an earlier instant. */
export const patternOutlooks = (
  state: WatchState,
  lab: Lab,
  now: number,
  asked?: AskedOutlook,
): readonly PatternOutlook[] => outlooksOf(state, labPlan(lab), now, asked);

/** Settings of rules that were refused; their defaults hold. */
export const ruleProblems = (lab: Lab): readonly Problem[] => labPlan(lab).problems;

export const waxWatch: Watch = {
  initial: () => ({}),
  step: (state, entry, lab) => stepAll(state, [entry], lab),
  stepAll,
  advance,
  openAlarms,
  statuses,
};
