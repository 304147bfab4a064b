// A station as one line of a list, in the same marks and words as on the wall.

import type { Signal } from '@preact/signals';
import type { StationView } from '../../../../api/schemas.ts';
import { formatAgo, formatTemperature } from '../../../base/format.ts';
import { t } from '../../../base/messages.ts';
import { ageSeconds, isLive, now, openAlarms, reader, stations } from '../../../live/lab-state.ts';
import { stationFace } from '../../../base/face.ts';
import { Mark } from '../../../base/marks.tsx';
import { stateNote, stateText } from '../../../live/state-text.ts';
import { Lane } from '../chart/lane.tsx';

const StationRow = ({ source }: { readonly source: Signal<StationView> }) => {
  const station = source.value;
  const live = isLive(station);
  const face = stationFace(station, openAlarms.value, live);
  const age = ageSeconds(station);
  const note = stateNote(station, face);
  return (
    <li
      class="station-row"
      data-tone={face.tone}
      data-attention={face.attention}
      data-active={face.alarm !== null}
    >
      <a href={`/station/${encodeURIComponent(station.id)}`}>
        <Mark name={face.mark} />
        <span class="station-row-name">
          <strong>{station.name}</strong>
          <span class="station-row-state">{stateText(station, face)}</span>
          {note !== '' && <span class="station-row-note">{note}</span>}
        </span>
        <span class="row-lane" aria-hidden="true">
          <Lane station={station} now={now.value} isLive={live} />
        </span>
        <span class="station-row-now">
          <strong>
            {live && station.celsius !== null ? formatTemperature(station.celsius, reader.value) : '–'}
          </strong>
          <span class="dim">{age === null ? t('station.never') : formatAgo(age, reader.value)}</span>
        </span>
      </a>
    </li>
  );
};

/** All of the lab; `aria-live` where they are watched while nothing else changes. */
export const StationRows = (props: { readonly 'aria-live'?: 'polite' }) => (
  <ul class="station-rows" {...props}>
    {stations.value.map((source) => (
      <StationRow key={source.peek().id} source={source} />
    ))}
  </ul>
);
