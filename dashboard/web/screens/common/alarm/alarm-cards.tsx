// Alarms one below the other. A caution is in full where it first applies; in the cards after it, it lies behind its
// name, so that three pots do not show the same paragraph three times.

import type { AlarmView } from '../../../../api/schemas.ts';
import { isSuppressed } from '../../../base/face.ts';
import { AlarmCard } from './alarm-card.tsx';

interface AlarmCardsProps {
  readonly alarms: readonly AlarmView[];
  /** Level below the heading that the list is under. */
  readonly heading?: 'h2' | 'h3';
  readonly isAtItsStation?: boolean;
  readonly listClass?: string;
}

const saysAgain = (alarms: readonly AlarmView[], index: number): boolean =>
  alarms.findIndex((alarm) => !isSuppressed(alarm) && alarm.caution === alarms[index]?.caution) < index;

export const AlarmCards = ({ alarms, listClass, ...card }: AlarmCardsProps) => (
  <ul {...(listClass !== undefined && { class: listClass })}>
    {alarms.map((alarm, index) => (
      <AlarmCard key={alarm.id} alarm={alarm} hasCautionAbove={saysAgain(alarms, index)} {...card} />
    ))}
  </ul>
);
