// How each part of the running process is: broker, journal, store, the loop that applies the rules, their figures.

import { ruleProblems } from '../../alerts/watch/wax-watch.ts';
import type { IntakeStatus } from '../../collector/intake/intake.ts';
import { failing, type PartHealth, working } from '../../collector/part-health.ts';
import type { Store } from '../../collector/store/store.ts';
import type { Lab } from '../../lab/lab.ts';
import { iso } from '../../wax/iso.ts';
import { type Problem, problem } from '../../wax/result.ts';
import { type EpochMillis, MILLIS_PER_DAY } from '../../wax/units.ts';

export interface HealthSources {
  readonly intake: IntakeStatus;
  readonly store: Pick<Store, 'health'>;
  /** Why the newest batch could not be committed. */
  readonly pipelineProblem: Problem | null;
  readonly lab: Lab;
  /** The site whose topics the intake takes, as it was when the program started. */
  readonly intakeSite: string;
  /** When the certificate ends that is shown now; null where the server has none. */
  readonly certificateEndsAt: EpochMillis | null;
  readonly now: EpochMillis;
}

/** A lab file may give the site a new id while the program runs; the intake keeps its topics until the next start. */
const brokerHealth = (broker: IntakeStatus['broker'], intakeSite: string, site: string): PartHealth => {
  if (broker.state === 'unreachable') return failing(broker.problem);
  return intakeSite === site
    ? working(broker.state)
    : failing(problem('site-id-changed', { site, before: intakeSite }));
};

/** By then every renewal should have been made: the program's own is due thirty days ahead. Our figure. */
const ENDS_SOON_MILLIS = 7 * MILLIS_PER_DAY;

function certificateHealth(endsAt: EpochMillis, now: EpochMillis): PartHealth {
  if (endsAt - now > ENDS_SOON_MILLIS) return working('valid');
  return failing(problem('certificate-ends', { ends_at: iso(endsAt) }));
}

export async function processHealth({
  intake: { broker, journal },
  store,
  pipelineProblem,
  lab,
  intakeSite,
  certificateEndsAt,
  now,
}: HealthSources): Promise<Readonly<Record<string, PartHealth>>> {
  // Figures that were set for a station and are refused; the defaults hold in their place.
  const refusedFigures = ruleProblems(lab);
  return {
    broker: brokerHealth(broker, intakeSite, lab.site.id),
    journal: journal.state === 'failing' ? failing(journal.problem) : working('writing'),
    store: await store.health(),
    rules: pipelineProblem === null ? working('applying') : failing(pipelineProblem),
    figures: refusedFigures.length === 0 ? working('as-set') : failing(...refusedFigures),
    ...(certificateEndsAt !== null && { certificate: certificateHealth(certificateEndsAt, now) }),
  };
}
