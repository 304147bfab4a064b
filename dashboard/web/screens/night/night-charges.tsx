// The wax charges that are spent or nearly, as they stand when the sheet is read: a dose is not kept for each night.

import type { NightSheet } from '../../../api/night.ts';
import { formatPercent } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { reader } from '../../live/lab-state.ts';

export const NightCharges = ({ near }: NonNullable<NightSheet['charges']>) => (
  <div>
    <h2>{t('night.charges')}</h2>
    {near.length === 0 && <p>{t('night.charges-none')}</p>}
    <ul>
      {near.map(({ station, name, doseShare, isSpent }) => (
        <li key={station}>
          <a href={`/s/${station}`}>{name}</a>
          {`: ${formatPercent(doseShare, reader.value)}. `}
          {t(isSpent ? 'night.charge-spent' : 'night.charge-nearly')}
        </li>
      ))}
    </ul>
  </div>
);
