// The lab's remakes: how many, what they cost, and what more of them had in common than chance would give.

import type { FitProofView } from '../../../api/fit-proof.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatNumber, formatPercent } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { reader } from '../../live/lab-state.ts';
import { factorName, factorValue, useOwnThings } from './factor-text.ts';

const MINUTES_PER_HOUR = 60;

export const Remakes = ({ remakes }: { readonly remakes: FitProofView['remakes'] }) => {
  const things = useOwnThings();
  const { remade, ended, price, minutes, factors } = remakes;
  const number = (value: number, digits: number): string => formatNumber(value, digits, reader.value);
  const cost =
    price === null && minutes === null
      ? t('proof.cost-unknown')
      : t('proof.cost', {
          price: number(remade * (price ?? 0), 2),
          hours: number((remade * (minutes ?? 0)) / MINUTES_PER_HOUR, 1),
        });
  return (
    <section>
      <h2>{t('proof.remakes')}</h2>
      <p>
        {t('proof.remakes-line', { remade, ended })} {remade > 0 && cost}
      </p>
      {remade > 0 && factors.length === 0 && <p>{t('proof.factors-none')}</p>}
      {factors.length > 0 && (
        <>
          <DataTable
            rows={factors}
            keyOf={({ name, value }) => `${name} ${value}`}
            columns={{
              [t('proof.factor')]: ({ name, value }) =>
                `${factorName(name)}: ${factorValue(name, value, things)}`,
              [t('proof.factor-remade')]: {
                figures: ({ remade: count, of }) => t('proof.of', { count, of }),
              },
              [t('proof.factor-other')]: {
                figures: ({ otherRemade, otherOf }) => t('proof.of', { count: otherRemade, of: otherOf }),
              },
              [t('proof.factor-chance')]: { figures: ({ chance }) => formatPercent(chance, reader.value) },
            }}
          />
          <p class="dim">{t('proof.factors-note')}</p>
        </>
      )}
    </section>
  );
};
