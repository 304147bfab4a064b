// The state of the lab, in sentences: the weightiest first. That all is in order stands alone or not at all.

import { type MessageKey, t } from '../base/messages.ts';
import type { LabStanding } from '../base/lab-standing.ts';

/** The count does not stand alone at the end of a line. */
const countedText = (key: MessageKey, count: number): string =>
  t(key, { count }).replace(`${count} `, `${count}\u00a0`);

/** While the line is lost, of when the lab last answered; empty when nothing was open then. */
export const standingSentences = (standing: LabStanding): readonly string[] => {
  if (standing.kind === 'in-order') return [t('standing.in-order')];
  if (standing.kind === 'no-stations') return [t('standing.no-stations')];
  const counted = [
    ['standing.alarms', standing.alarms],
    ['standing.silent', standing.silent],
    ['standing.never', standing.never],
    ['standing.acknowledged', standing.acknowledged],
    ['standing.past', standing.past],
    ['standing.shelved', standing.shelved],
  ] as const;
  return [
    ...counted.flatMap(([key, count]) => (count > 0 ? [countedText(key, count)] : [])),
    ...(standing.isPartFailing ? [t('standing.part-failing')] : []),
  ];
};
