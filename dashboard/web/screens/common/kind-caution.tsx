// The caution that belongs to every station that is hot, and what its ceiling has done to skin.

import {
  STATION_KIND_FACTS,
  type StationKind,
  type StationKindFacts,
} from '../../../../lab/station-kinds.ts';
import { Mark } from '../../base/marks.tsx';
import { type MessageKey, t } from '../../base/messages.ts';
import { BurnNote } from './burn-note.tsx';

const TEXT: Readonly<Record<NonNullable<StationKindFacts['caution']>, MessageKey>> = {
  heater: 'caution.heater',
  furnace: 'caution.furnace',
};

interface KindCautionProps {
  readonly kind: StationKind;
  /** °C; without one no word of burns. */
  readonly ceiling: number | null;
}

export const KindCaution = ({ kind, ceiling }: KindCautionProps) => {
  const { caution } = STATION_KIND_FACTS[kind];
  if (caution === null) return null;
  return (
    <p class="caution">
      <Mark name="fire-risk" />
      <span>
        {t(TEXT[caution])} {ceiling !== null && <BurnNote celsius={ceiling} kind={kind} />}
      </span>
    </p>
  );
};
