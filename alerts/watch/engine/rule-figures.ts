// The figures by which the rules judge one station: the lab's own values over the defaults of this program.

import type { RuleFigures } from '../../../lab/database/settings-history.ts';
import type { Lab } from '../../../lab/lab.ts';
import type { Station } from '../../../lab/station.ts';
import { labPlan } from './state/lab-plan.ts';

export const ruleFigures = (station: Station, lab: Lab): RuleFigures =>
  Object.fromEntries(
    [...(labPlan(lab).stations.get(station.id)?.byKind ?? [])].map(([kind, { values }]) => [kind, values]),
  );
