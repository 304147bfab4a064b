// What people call the thing that an alarm is about: a station by its name, a pattern by its case.

import type { Station } from '../../lab/station.ts';
import type { RunningLab } from './running-lab.ts';

const MOST_PATTERNS = 5000;

/**
 * The id itself where there is no name: of a probe, a gateway, a pattern whose case was erased.
 * @param stations those of the span that is looked at
 */
export const subjectNames = (
  { lab, repository }: RunningLab,
  stations: readonly Station[],
): ((subject: string) => string) => {
  const names = new Map([
    ...repository.allPatterns(MOST_PATTERNS).map(({ id, caseReference }) => [id, caseReference] as const),
    ...stations.map(({ id, name }) => [id, name] as const),
    ['site', lab().site.name] as const,
  ]);
  return (subject) => names.get(subject) || subject;
};
