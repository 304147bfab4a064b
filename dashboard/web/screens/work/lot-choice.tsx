// From which lot wax was taken: those of its class, the newest first, with what is expired named so.

import type { LotView } from '../../../api/lots.ts';
import { t } from '../../base/messages.ts';
import { ChoiceEntry } from '../../forms/entries.tsx';
import { useLoaded } from '../../live/use-loaded.ts';

export const useLots = (isNeeded = true): readonly LotView[] =>
  useLoaded<readonly LotView[]>(isNeeded ? '/api/lots' : null).value ?? [];

/** A narrow phone cuts the end off, and two lots of one wax differ by their number. */
const lotName = ({ maker, lot, isExpired }: LotView): string => {
  const name = `${lot}, ${maker}`;
  return isExpired ? t('work.lot-choice-expired', { lot: name }) : name;
};

/** Nothing is shown while the lab has recorded no lot of this wax. */
export const LotChoice = (props: {
  readonly lots: readonly LotView[];
  readonly wax: string;
  /** Empty: not recorded. */
  readonly value: string;
  readonly onChange: (lot: string) => void;
  /** What the server refused about it. */
  readonly error?: string | null;
}) => {
  const fitting = props.lots.filter(({ wax }) => wax.id === props.wax);
  return fitting.length === 0 ? null : (
    <ChoiceEntry
      label="work.lot"
      value={fitting.some(({ id }) => id === props.value) ? props.value : ''}
      options={[['', t('work.lot-none')], ...fitting.map((lot) => [lot.id, lotName(lot)] as const)]}
      onChange={props.onChange}
      error={props.error ?? null}
    />
  );
};
