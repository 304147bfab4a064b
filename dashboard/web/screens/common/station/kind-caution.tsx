// The caution that belongs to every station that is hot.

import type { ComponentChildren } from 'preact';
import {
  STATION_KIND_FACTS,
  type StationKind,
  type StationKindFacts,
} from '../../../../../lab/station-kinds.ts';
import { Mark } from '../../../base/marks.tsx';
import { type MessageKey, t } from '../../../base/messages.ts';

const TEXT: Readonly<Record<NonNullable<StationKindFacts['caution']>, MessageKey>> = {
  heater: 'caution.heater',
  furnace: 'caution.furnace',
};

interface KindCautionProps {
  readonly kind: StationKind;
  /** What its ceiling has done to skin, where that is known. */
  readonly children?: ComponentChildren;
}

export const KindCaution = ({ kind, children }: KindCautionProps) => {
  const { caution } = STATION_KIND_FACTS[kind];
  if (caution === null) return null;
  return (
    <p class="caution">
      <Mark name="fire-risk" />
      <span>
        {t(TEXT[caution])} {children}
      </span>
    </p>
  );
};
