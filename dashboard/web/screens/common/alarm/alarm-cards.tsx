// Alarms one below the other. A caution is in full where it first applies; in the cards after it, it lies behind its
// name, so that three pots do not show the same paragraph three times.

import type { AlarmView } from '../../../../api/schemas.ts';
import { isSuppressed } from '../../../base/face.ts';
import { ruleName, t } from '../../../base/messages.ts';
import { AlarmCard } from './alarm-card.tsx';

interface AlarmCardsProps {
  readonly alarms: readonly AlarmView[];
  /** Level below the heading that the list is under. */
  readonly heading?: 'h2' | 'h3';
  readonly isAtItsStation?: boolean;
  readonly listClass?: string;
}

/** H in the standard's table: suppressed by design. */
const isHiddenByCause = ({ stateCode }: AlarmView): boolean => stateCode === 'H';

const saysAgain = (alarms: readonly AlarmView[], index: number): boolean =>
  alarms.findIndex((alarm) => !isSuppressed(alarm) && alarm.caution === alarms[index]?.caution) < index;

export const AlarmCards = ({ alarms, listClass, ...card }: AlarmCardsProps) => (
  <ul {...(listClass !== undefined && { class: listClass })}>
    {alarms.map((alarm, index) => (
      <AlarmCard key={alarm.id} alarm={alarm} hasCautionAbove={saysAgain(alarms, index)} {...card} />
    ))}
  </ul>
);

/** On the page of their station: what another alarm suppresses lies behind its names, so that the cause comes first. */
export const StationAlarmCards = ({ alarms }: { readonly alarms: readonly AlarmView[] }) => {
  const hidden = alarms.filter(isHiddenByCause);
  const shown = alarms.filter((alarm) => !isHiddenByCause(alarm));
  return (
    <>
      {shown.length > 0 && (
        <AlarmCards listClass="station-alarms" alarms={shown} heading="h2" isAtItsStation />
      )}
      {hidden.length > 0 && (
        <details class="alarm-history">
          <summary>
            {t('alarms.suppressed', { names: hidden.map(({ rule }) => ruleName(rule)).join(', ') })}
          </summary>
          <AlarmCards listClass="station-alarms" alarms={hidden} heading="h2" isAtItsStation />
        </details>
      )}
    </>
  );
};
