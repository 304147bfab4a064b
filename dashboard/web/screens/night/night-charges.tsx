// The wax charges that are spent or nearly, as they stand when the sheet is read: a dose is not kept for each night.

import type { StationView } from '../../../api/schemas.ts';
import { formatPercent } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { reader, stations } from '../../live/lab-state.ts';

/** Of the allowance; the alarm of a high dose takes the same. Common practice. */
const NEARLY_SHARE = 0.8;
const SPENT_SHARE = 1;

const isNear = (station: StationView): station is StationView & { readonly doseShare: number } =>
  station.doseShare !== null && station.doseShare >= NEARLY_SHARE;

export const NightCharges = () => {
  const near = stations.value
    .map(({ value }) => value)
    .filter(isNear)
    .sort((more, less) => less.doseShare - more.doseShare);
  return (
    <div>
      <h2>{t('night.charges')}</h2>
      {near.length === 0 && <p>{t('night.charges-none')}</p>}
      <ul>
        {near.map(({ id, name, doseShare }) => (
          <li key={id}>
            <a href={`/s/${id}`}>{name}</a>
            {`: ${formatPercent(doseShare, reader.value)}. `}
            {t(doseShare >= SPENT_SHARE ? 'night.charge-spent' : 'night.charge-nearly')}
          </li>
        ))}
      </ul>
    </div>
  );
};
