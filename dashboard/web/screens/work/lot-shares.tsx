// Which lots a wax is of, and how much of each, with a way to each lot.

import type { ChargeView } from '../../../api/charges.ts';
import { formatPercent } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { reader } from '../../live/lab-state.ts';

export const LotShares = ({ lots }: { readonly lots: ChargeView['lots'] }) => (
  <>
    {lots.map(({ lot, name, share, isExpired }, index) => {
      const shown = name ?? t('work.lot-unknown');
      const text = t('work.lot-share', {
        lot: isExpired ? t('work.lot-expired', { lot: shown }) : shown,
        share: formatPercent(share, reader.value),
      });
      return (
        <>
          {index > 0 && ', '}
          {lot === null || name === null ? text : <a href={`/lots/${lot}`}>{text}</a>}
        </>
      );
    })}
  </>
);
