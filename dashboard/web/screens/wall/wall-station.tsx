// One tile of the wall. It redraws alone when its reading moves, and once a second for the age of its data.

import type { ComponentChildren } from 'preact';
import type { StationView } from '../../../api/schemas.ts';
import { type Face, markOf, toneOf } from '../../base/face.ts';
import { unitMark } from '../../base/format.ts';
import { Mark } from '../../base/marks.tsx';
import { t } from '../../base/messages.ts';
import { ageSeconds, dataOf, isLive, now, reader } from '../../live/lab-state.ts';
import { Lane } from '../common/chart/lane.tsx';
import type { Level } from '../common/wall/wall-tile.ts';
import { withSoftHyphens } from '../common/wall/word-breaks.ts';
import { directionOf } from '../../live/direction.ts';
import { Age, Facts } from './wall-facts.tsx';
import { faceOf, shownValue, type WallTile } from './wall-tiles.ts';

/** Where there is no room for every age, a missing one means fresher than this. */
const FRESH_SECONDS = 10;
/** Room for the reading beside its trace, in heights of its digits: 99.9 and 199.5, each with its unit. */
const [DIGITS_ROOM, WIDE_DIGITS_ROOM] = [2.8, 3.3];
const digitsRoom = (station: StationView): number =>
  shownValue(station).length > '99.9'.length ? WIDE_DIGITS_ROOM : DIGITS_ROOM;
const Digits = ({ station }: { readonly station: StationView }) => (
  <span class="digits">
    {shownValue(station)}
    {isLive(station) && <small>{unitMark(reader.value.unit)}</small>}
  </span>
);

/** Whether it is still getting hotter; a lane shows it where there is one. */
const Direction = ({ station }: { readonly station: StationView }) => {
  const direction = directionOf(station);
  return direction === null ? null : (
    <>
      <i class="direction" data-direction={direction} />
      <span class="unseen">{t(direction === 'up' ? 'wall.rising' : 'wall.falling')}</span>
    </>
  );
};

interface TileProps {
  readonly tile: WallTile;
  /** As it fits. */
  readonly name: string;
  /** Its type size in minutes of arc. */
  readonly nameArc: number;
  readonly level: Level;
  /** Whether an alarm leaves room for its lane. */
  readonly hasLane: boolean;
}

/** So now, and nobody acknowledged it: what, how hot, what to do. */
const AlarmTile = ({ tile, name, hasLane, mark }: TileProps & { readonly mark: ComponentChildren }) => {
  const station = tile.station?.value ?? null;
  return (
    <>
      <div class="tile-head">
        {mark}
        <h2>{withSoftHyphens(name)}</h2>
        {station && <Direction station={station} />}
        {station && <Digits station={station} />}
      </div>
      <p class="alarm-word">{tile.word}</p>
      {tile.advice !== '' && <p class="advice">{tile.advice}</p>}
      {tile.note !== '' && <p class="tile-note">{tile.note}</p>}
      {station && hasLane && (
        <div class="lane" aria-hidden="true">
          <Lane station={station} now={now.value} isLive={isLive(station)} />
        </div>
      )}
    </>
  );
};

interface CalmProps extends TileProps {
  readonly station: StationView;
  readonly face: Face;
}

const CalmTile = ({ tile, name, level, station, face }: CalmProps) => {
  const live = isLive(station);
  const age = ageSeconds(station);
  const note = level === 'full' ? tile.note : tile.briefNote;
  const ageOnStateLine = age !== null && (live ? level !== 'full' && age >= FRESH_SECONDS : note === '');
  return (
    <>
      <h2>{withSoftHyphens(name)}</h2>
      <div class="lane" style={{ '--digits-room': digitsRoom(station) }}>
        <Lane station={station} now={now.value} isLive={live} />
        <Digits station={station} />
      </div>
      <p class="state">
        <Mark name={face.mark} />
        <span>{tile.word}</span>
        {ageOnStateLine && <Age seconds={age} />}
      </p>
      {note === '' ? (
        live && <Facts station={station} level={level} age={age} />
      ) : (
        <p class="tile-note">{note}</p>
      )}
    </>
  );
};

export const WallStation = (props: TileProps) => {
  const { tile } = props;
  const station = tile.station?.value ?? null;
  const face = station === null ? null : faceOf(station);
  const tone = tile.isAlarm && tile.alarm ? toneOf(tile.alarm.priority) : (face?.tone ?? 'calm');
  const content =
    station === null || face === null || tile.isAlarm ? (
      <AlarmTile {...props} mark={<Mark name={markOf(tile.alarm?.priority ?? 'notice')} />} />
    ) : (
      <CalmTile {...props} station={station} face={face} />
    );
  const address = station === null ? '/alarms' : `/station/${encodeURIComponent(station.id)}`;
  return (
    <li
      class="wall-station"
      style={{ '--name': `calc(var(--arc) * ${props.nameArc})` }}
      data-kind={tile.isAlarm ? 'alarm' : 'calm'}
      data-tone={tone}
      data-attention={tile.isAlarm ? 'unacknowledged' : face?.attention}
      data-station={station === null ? 'live' : dataOf(station)}
    >
      <a href={address}>{content}</a>
    </li>
  );
};
