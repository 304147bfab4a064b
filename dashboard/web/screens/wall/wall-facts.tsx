// What is below a station's state on the wall: its limits with the same signs as the lane has, the wax in it,
// how far its heat dose is, and how old the reading is.

import type { StationView } from '../../../api/schemas.ts';
import {
  differenceInUnit,
  formatAgeShort,
  formatLimit,
  formatNumber,
  formatPercent,
} from '../../base/format.ts';
import { shortWaxName, t } from '../../base/messages.ts';
import { reader } from '../../live/lab-state.ts';
import type { Level } from '../common/wall/wall-tile.ts';

/** A cup that fills with the heat dose of the charge. */
const Dose = ({ share }: { readonly share: number }) => (
  <span class="end">
    <i class="key-dose">
      <i style={{ blockSize: `${Math.min(100, share * 100)}%` }} />
    </i>
    <span class="unseen">{t('station.dose')}</span>
    {formatPercent(share, reader.value)}
  </span>
);

export const Age = ({ seconds }: { readonly seconds: number }) => (
  <span class="age">
    <span class="unseen">{t('wall.age')}</span>
    {formatAgeShort(seconds)}
  </span>
);

/** What matters at a storage place as much as its limit: how far it swings. */
const Swing = ({ station }: { readonly station: StationView }) => {
  if (station.isHeater || station.swingCelsius === null || station.condition === 'unsteady') return null;
  const swing = differenceInUnit(station.swingCelsius, reader.value.unit);
  return <span>{t('wall.swing-short', { swing: formatNumber(swing, 1, reader.value) })}</span>;
};

const Limits = ({ station }: { readonly station: StationView }) => {
  const { windowLow, windowHigh, ceiling } = station;
  return (
    <>
      {windowHigh && (
        <span>
          <i class="key-window" />
          <span class="unseen">{t('station.window')}</span>
          {windowLow ? `${formatLimit(windowLow.value, reader.value)}–` : '≤ '}
          {formatLimit(windowHigh.value, reader.value)}
        </span>
      )}
      {ceiling && (
        <span>
          <i class="key-ceiling" />
          <span class="unseen">{t('station.ceiling')}</span>
          {formatLimit(ceiling.value, reader.value)}
        </span>
      )}
    </>
  );
};

interface FactsProps {
  readonly station: StationView;
  readonly level: Level;
  readonly age: number | null;
}

/** Each line shows as many of its facts as fit whole, the first ones first. */
export const Facts = ({ station, level, age }: FactsProps) => {
  if (level === 'compact') return null;
  const dose = station.doseShare === null ? null : <Dose share={station.doseShare} />;
  if (level === 'middle')
    return (
      <p class="facts">
        <Limits station={station} />
        {dose}
        <Swing station={station} />
      </p>
    );
  return (
    <>
      <p class="facts">
        <Limits station={station} />
        <Swing station={station} />
        {age !== null && <Age seconds={age} />}
      </p>
      <p class="facts">
        <span>{station.wax ? shortWaxName(station.wax) : t('station.no-wax')}</span>
        {dose}
      </p>
    </>
  );
};
