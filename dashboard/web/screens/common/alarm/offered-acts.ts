// Which acts the state of an alarm allows a person, in the order of their buttons. Pure.

import type { AlarmView } from '../../../../api/schemas.ts';

export type OfferedAct = 'acknowledge' | 'reset' | 'unshelve' | 'return-to-service' | 'shelve';

/**
 * By the state codes of IEC 62682: A normal, G shelved, H suppressed, I out of service. A note can be written in every
 * state; what does not announce itself cannot be acknowledged.
 */
export const offeredActs = ({
  stateCode,
  acknowledged,
  latched,
  active,
}: Pick<AlarmView, 'stateCode' | 'acknowledged' | 'latched' | 'active'>): readonly OfferedAct[] => {
  const isNormal = stateCode === 'A';
  const isShelved = stateCode === 'G';
  const isOutOfService = stateCode === 'I';
  const allowed: Readonly<Record<OfferedAct, boolean>> = {
    acknowledge: !acknowledged && !isNormal && !isShelved && !isOutOfService && stateCode !== 'H',
    reset: latched && acknowledged && !active,
    unshelve: isShelved,
    'return-to-service': isOutOfService,
    shelve: !isShelved && !isNormal && !isOutOfService,
  };
  return (Object.keys(allowed) as OfferedAct[]).filter((act) => allowed[act]);
};

export const isToReset = (alarm: Parameters<typeof offeredActs>[0]): boolean =>
  offeredActs(alarm).includes('reset');
