// One station on the wall. It redraws alone when its reading moves, and once a second for the age of its data.

import type { Signal } from '@preact/signals';
import type { StationView } from '../../../api/schemas.ts';
import { formatDegrees } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { ageSeconds, isLive, now, openAlarms, reader } from '../../live/lab-state.ts';
import { stationFace } from '../../base/face.ts';
import { Mark } from '../../base/marks.tsx';
import { stateText } from '../../live/state-text.ts';
import { Lane } from '../common/lane.tsx';
import { Age, Facts } from './wall-facts.tsx';
import type { Fit } from './wall-fit.ts';
import type { Level } from '../common/wall-layout.ts';

/** Where there is no room for every age, a missing one means fresher than this. */
const FRESH_SECONDS = 10;

interface WallStationProps {
  readonly source: Signal<StationView>;
  readonly level: Level;
  readonly fit: Fit;
}

export const WallStation = ({ source, level, fit }: WallStationProps) => {
  const station = source.value;
  const live = isLive(station);
  const age = ageSeconds(station);
  const face = stationFace(station, openAlarms.value, live);
  const state = stateText(station, face, live, level === 'compact' ? 'wall-compact' : 'wall');
  const ageOnStateLine =
    !(level === 'full' && live) && age !== null && (level !== 'compact' || age >= FRESH_SECONDS);
  return (
    <li
      class="wall-station"
      data-tone={face.tone}
      data-attention={face.attention}
      data-live={live}
      data-active={face.alarm?.active !== false}
    >
      <a href={`/station/${encodeURIComponent(station.id)}`}>
        <h2>
          <span class="cut" style={fit.name(station.name, 0.8)}>
            {station.name}
          </span>
        </h2>
        <div class="lane">
          <Lane station={station} now={now.value} isLive={live} />
          <span class="digits">
            {live && station.celsius !== null ? formatDegrees(station.celsius, reader.value) : '–'}
          </span>
        </div>
        <p class="state">
          <Mark name={face.mark} />
          <span class="cut" style={fit.state(state, ageOnStateLine ? 4.2 : 2.2)}>
            {state}
          </span>
          {ageOnStateLine && <Age seconds={age} />}
        </p>
        {live && <Facts station={station} level={level} age={age} fit={fit} />}
        {!live && level !== 'compact' && station.celsius !== null && (
          <p class="facts">{t('wall.was', { value: formatDegrees(station.celsius, reader.value) })}</p>
        )}
      </a>
    </li>
  );
};
