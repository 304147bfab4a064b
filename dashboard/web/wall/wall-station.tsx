// One station on the wall. It redraws alone when its reading moves, and once a second for the age of its data.

import type { Signal } from '@preact/signals';
import type { StationView } from '../../api/schemas.ts';
import { formatAge, formatDegrees, formatDifference, formatLimit, formatPercent } from '../frame/format.ts';
import { t, word } from '../frame/messages.ts';
import { ageSeconds, isLive, now, openAlarms, reader } from '../live/lab-state.ts';
import { stationFace } from '../look/face.ts';
import { Mark } from '../look/marks.tsx';
import { Lane } from './lane.tsx';
import { nameShrink, type WallLayout } from './wall-layout.ts';

export interface Sizes {
  readonly cell_pixels: number;
  readonly name_pixels: number;
}

const Facts = ({ station, layout }: { readonly station: StationView; readonly layout: WallLayout }) => {
  const { windowLow, windowHigh, ceiling } = station;
  const limits = (
    <p class="facts limits">
      {windowLow && windowHigh && (
        <span>
          <i class="key-window" />
          <span class="unseen">{t('station.window')}</span>
          {formatLimit(windowLow.value, reader.value)}–{formatLimit(windowHigh.value, reader.value)}
        </span>
      )}
      {ceiling && (
        <span>
          <i class="key-ceiling" />
          <span class="unseen">{t('station.ceiling')}</span>
          {formatLimit(ceiling.value, reader.value)}
        </span>
      )}
      {layout.level === 'middle' && station.doseShare !== null && (
        <span class="end">{t('wall.dose', { share: formatPercent(station.doseShare, reader.value) })}</span>
      )}
    </p>
  );
  if (layout.level === 'middle') return limits;
  return (
    <>
      {limits}
      <p class="facts">
        <span class="cut">{station.wax?.name ?? t('station.no-wax')}</span>
        {station.doseShare !== null && (
          <span class="end">{t('wall.dose', { share: formatPercent(station.doseShare, reader.value) })}</span>
        )}
      </p>
    </>
  );
};

const stateText = (station: StationView, wordNow: string, live: boolean): string => {
  if (!live) return wordNow;
  if (station.minutesToCeiling !== null && station.ceiling && station.condition === 'heading-over')
    return t('wall.minutes-to-ceiling', {
      minutes: Math.max(1, Math.round(station.minutesToCeiling)),
      ceiling: formatLimit(station.ceiling.value, reader.value),
    });
  if (station.condition === 'unsteady' && station.swingCelsius !== null)
    return t('wall.swing', { swing: formatDifference(station.swingCelsius, reader.value) });
  return wordNow;
};

export const WallStation = (props: {
  readonly source: Signal<StationView>;
  readonly layout: WallLayout;
  readonly sizes: Sizes;
}) => {
  const station = props.source.value;
  const live = isLive(station);
  const age = ageSeconds(station);
  const face = stationFace(station, openAlarms.value, live);
  const compact = props.layout.level === 'compact';
  const shrink = nameShrink(
    station.name.length,
    props.sizes.cell_pixels - props.sizes.name_pixels,
    props.sizes.name_pixels,
  );
  return (
    <li class="wall-station" data-tone={face.tone} data-attention={face.attention} data-live={live}>
      <a href={`/station/${encodeURIComponent(station.id)}`}>
        <h2 style={{ fontSize: `${shrink}em` }}>
          <span class="cut">{station.name}</span>
        </h2>
        <div class="lane">
          <Lane station={station} now={now.value} isLive={live} />
          <span class="digits">
            {live && station.celsius !== null ? formatDegrees(station.celsius, reader.value) : '–'}
          </span>
        </div>
        <p class="state">
          <Mark name={face.mark} />
          <span class="cut">{stateText(station, word(face.word.group, face.word.name), live)}</span>
          {age !== null && <span class="age">{formatAge(age, reader.value)}</span>}
        </p>
        {!compact && live && <Facts station={station} layout={props.layout} />}
        {!compact && !live && station.celsius !== null && (
          <p class="facts">{t('wall.was', { value: formatDegrees(station.celsius, reader.value) })}</p>
        )}
      </a>
    </li>
  );
};
