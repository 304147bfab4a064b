// The head of the pages of a station: what is in it, its state, what was, the reading.

import type { Figure } from '../../../../api/figures.ts';
import type { StationView } from '../../../../api/schemas.ts';
import { stationFace } from '../../../base/face.ts';
import {
  formatAgo,
  formatDifference,
  formatLimit,
  formatTemperature,
  unitMark,
} from '../../../base/format.ts';
import { Mark } from '../../../base/marks.tsx';
import { t, waxName, word } from '../../../base/messages.ts';
import { ageSeconds, dataOf, isLive, line, now, openAlarms, reader } from '../../../live/lab-state.ts';
import { writeClock } from '../../../forms/written-time.ts';
import { directionOf } from '../../../live/direction.ts';
import { faceText, stateNote, stateText } from '../../../live/state-text.ts';
import { Lane } from '../chart/lane.tsx';
import './overview.css';
import './station-head.css';

/** Working window, ceiling and the time by which it is to be ready in one line; empty where the station has none. */
const limitsText = ({ windowLow, windowHigh, ceiling, readyBy }: StationView): string => {
  const limit = (figure: Figure): string => formatLimit(figure.value, reader.value);
  const unit = unitMark(reader.value.unit);
  const low = windowLow === null ? '≤ ' : `${limit(windowLow)}–`;
  return [
    ...(windowHigh === null ? [] : [`${t('station.window')} ${low}${limit(windowHigh)} ${unit}`]),
    ...(ceiling === null ? [] : [`${t('station.ceiling')} ${limit(ceiling)} ${unit}`]),
    ...(readyBy ? [`${t('station.ready-by')} ${writeClock(readyBy, reader.value)}`] : []),
  ].join(' · ');
};

interface HeadProps {
  readonly station: StationView;
  /** With its last hour, where the page has no chart. */
  readonly withTrend?: boolean;
}

export const StationHead = ({ station, withTrend = false }: HeadProps) => {
  const live = isLive(station);
  const isLost = line.value === 'down';
  const face = stationFace(station, openAlarms.value, live);
  const age = ageSeconds(station);
  const note = stateNote(station, face);
  const direction = directionOf(station);
  return (
    <header class="station-head" data-tone={face.tone}>
      <div>
        <p class="dim">
          {word('kind', station.kind)}
          {station.wax && ` · ${waxName(station.wax)}`}
        </p>
        <h1>{station.name}</h1>
        <p class="station-state">
          <Mark name={face.mark} />
          <span>
            {dataOf(station) === 'never' || isLost ? stateText(station, face) : faceText(face)}
            {live && !isLost && station.minutesToCeiling !== null && station.condition === 'heading-over' && (
              <>
                {' · '}
                {t('station.minutes', { minutes: Math.max(1, Math.round(station.minutesToCeiling)) })}
              </>
            )}
          </span>
        </p>
        {note !== '' && <p>{note}</p>}
        <p class="dim">{limitsText(station)}</p>
      </div>
      <p class="station-now">
        <span class="station-digits">
          {live && station.celsius !== null ? formatTemperature(station.celsius, reader.value) : '–'}
        </span>
        {direction !== null && (
          <strong class="station-direction">
            {t(direction === 'up' ? 'wall.rising' : 'wall.falling')}
            {station.celsiusPerHour !== null &&
              ` · ${t('station.per-hour', { value: formatDifference(station.celsiusPerHour, reader.value, 0) })}`}
          </strong>
        )}
        <span class="dim">
          {[
            ...(live && station.celsius !== null
              ? [
                  t('station.uncertainty', {
                    value: formatDifference(station.uncertaintyCelsius, reader.value),
                  }),
                ]
              : []),
            ...(age === null ? [] : [t('station.measured', { ago: formatAgo(age, reader.value) })]),
          ].join(' · ')}
        </span>
      </p>
      {withTrend && (
        <div class="row-lane station-trend" aria-hidden="true">
          <Lane station={station} now={now.value} isLive={live} />
        </div>
      )}
    </header>
  );
};
