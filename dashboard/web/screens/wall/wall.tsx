// The wall: every station at once, read from across the room without touching anything. Sizes follow from where
// people stand; nothing scrolls, nothing moves but the readings.

import { useEffect, useState } from 'preact/hooks';
import { formatTime } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { settings } from '../../base/settings.ts';
import { FirstProbe } from '../common/station/first-probe.tsx';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { line, loaded, now, reader, stations, trouble } from '../../live/lab-state.ts';
import { HandsLine } from './hands-line.tsx';
import { watchPatterns } from '../common/bench/next-pattern.ts';
import { isNight, wander } from './night.ts';
import { typePixels } from '../common/wall/viewing-distance.ts';
import { type Area, type Grid, type WallPlan, wallPlanner } from '../common/wall/wall-plan.ts';
import {
  ALARM_LANE_ARC,
  alarmHeight,
  alarmScale,
  nameHeight,
  nameSize,
  SIZES,
} from '../common/wall/wall-tile.ts';
import { emsOf, facesLoaded } from './text-width.ts';
import { type WallFoot, wallFoot } from './wall-foot.ts';
import { armed, silencedUntil, soundPriority, startSounding } from './wall-sound.ts';
import { WallStation } from './wall-station.tsx';
import { type WallTile, wallTiles } from './wall-tiles.ts';
import './wall.css';
import { useTitle } from '../../base/use-title.ts';

/** Edge kept free so that the wandering picture is never cut. */
const MARGIN_PIXELS = 4;

const useWindowSize = () => {
  const [size, setSize] = useState({ width: innerWidth, height: innerHeight });
  useEffect(() => {
    const measure = () => setSize({ width: innerWidth, height: innerHeight });
    addEventListener('resize', measure);
    return () => removeEventListener('resize', measure);
  }, []);
  return size;
};

/** What to sound now, unless the wall cannot or is muted. */
const soundNow = () => (!armed.value || silencedUntil.value > now.value ? null : soundPriority.value);

/** Keeps the screen from sleeping where the browser allows it. */
const keepAwake = (): (() => void) => {
  const ask = () => {
    if (document.visibilityState === 'visible')
      void navigator.wakeLock?.request('screen').catch(() => undefined);
  };
  ask();
  document.addEventListener('visibilitychange', ask);
  return () => document.removeEventListener('visibilitychange', ask);
};

/** A pointer that nobody moves is in the way of what is read from afar. */
const POINTER_MILLIS = 4000;
const hidePointer = (): (() => void) => {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const root = document.documentElement;
  const show = () => {
    root.classList.remove('pointer-idle');
    clearTimeout(timer);
    timer = setTimeout(() => root.classList.add('pointer-idle'), POINTER_MILLIS);
  };
  show();
  addEventListener('pointermove', show);
  return () => {
    removeEventListener('pointermove', show);
    clearTimeout(timer);
    root.classList.remove('pointer-idle');
  };
};

/** Each page of calm stations stays so long. */
const PAGE_MILLIS = 12_000;

/** The same tiles in the same area give the same plan, and digits that move change no width. */
const PLANS_KEPT = 8;
interface Planned {
  readonly key: string;
  readonly planFor: (area: Area) => WallPlan;
}
let planned: Planned | null = null;
const plannerOf = (tiles: readonly WallTile[], width: number): Planned['planFor'] => {
  const key = JSON.stringify([
    width,
    facesLoaded.value,
    tiles.map(({ station, alarm, value, ...texts }) => ({ ...texts, value: value.replaceAll(/\d/g, '0') })),
  ]);
  if (planned?.key === key) return planned.planFor;
  const planNew = wallPlanner(tiles, emsOf);
  const plans = new Map<number, WallPlan>();
  const planFor = (area: Area): WallPlan => {
    const before = plans.get(area.height);
    if (before !== undefined) return before;
    const plan = planNew(area);
    if (plans.size >= PLANS_KEPT) plans.clear();
    plans.set(area.height, plan);
    return plan;
  };
  planned = { key, planFor };
  return planFor;
};

interface Drawn {
  readonly plan: WallPlan;
  readonly foot: WallFoot;
  readonly page: number;
}

/** The foot takes what it needs of the height; what has no tile is named in it, so both are planned twice. */
const drawWith = (
  secondLines: number,
  tiles: readonly WallTile[],
  { width, height }: Area,
  planFor: Planned['planFor'],
): Drawn => {
  const alarms = tiles.flatMap(({ isAlarm, alarm }) => (isAlarm && alarm ? [alarm] : []));
  const footOf = (plan: WallPlan | null, page: number): WallFoot =>
    wallFoot(
      {
        further: (plan?.furtherAlarms ?? []).map((key) => tiles.find((tile) => tile.key === key)?.name ?? ''),
        names: tiles.map(({ name }) => name),
        unplaced: plan?.unplaced.length ?? 0,
        page: page + 1,
        pages: plan?.stations.pages.length ?? 1,
        alarms,
        secondLines,
      },
      width,
      emsOf,
    );
  const planBeside = (foot: WallFoot) => planFor({ width, height: height - foot.height });
  const pageOf = (plan: WallPlan) => Math.floor(now.value / PAGE_MILLIS) % plan.stations.pages.length;
  const before = planBeside(footOf(null, 0));
  const plan = planBeside(footOf(before, pageOf(before)));
  const page = pageOf(plan);
  return { plan, foot: footOf(plan, page), page };
};

/** The longest verdict of the next pattern, with the caution beside it, takes as many lines on a wall of usual size. */
const SENTENCE_LINES = 5;

/** Whether as many tiles are as large: what the sentence takes is then room that nothing else needs. */
const showsAsMuch = (plan: WallPlan, than: WallPlan): boolean =>
  plan.level === than.level &&
  plan.unplaced.length === than.unplaced.length &&
  plan.furtherAlarms.length === than.furtherAlarms.length &&
  plan.stations.pages.length === than.stations.pages.length;

/** The next pattern by its whole sentence where that takes nothing from the stations, else in one line. */
const draw = (tiles: readonly WallTile[], area: Area): Drawn => {
  const planFor = plannerOf(tiles, area.width);
  const short = drawWith(1, tiles, area, planFor);
  const whole = drawWith(SENTENCE_LINES, tiles, area, planFor);
  return showsAsMuch(whole.plan, short.plan) ? whole : short;
};

interface TilesProps {
  readonly tiles: readonly WallTile[];
  readonly keys: readonly string[];
  readonly plan: WallPlan;
  readonly grid: Grid;
  /** Of all tiles of the grid together, minutes of arc. */
  readonly width: number;
  readonly height: number;
  readonly className: string;
}

const Tiles = ({ tiles, keys, plan, grid, width, height, className }: TilesProps) => {
  const sizes = SIZES[plan.level];
  const cell = { width: width / grid.columns / grid.scale, height: height / grid.rows / grid.scale };
  const shown = keys.flatMap((key) => {
    const tile = tiles.find((each) => each.key === key);
    return tile === undefined ? [] : [{ tile, name: plan.names.get(key) ?? tile.name }];
  });
  const named = shown.map(({ tile, name }) => ({ ...tile, name }));
  const alarms = named.filter(({ isAlarm }) => isAlarm);
  const names = named.filter(({ isAlarm }) => !isAlarm);
  const larger = alarmScale(alarms, plan.level, cell, emsOf);
  return (
    <ul
      class={className}
      style={{
        '--columns': grid.columns,
        '--rows': grid.rows,
        '--arc': `calc(var(--screen-arc) * ${grid.scale})`,
        '--alarm-arc': `calc(var(--arc) * ${larger})`,
        '--name-arc': Math.max(0, ...names.map((tile) => nameHeight(tile, plan.level, cell.width, emsOf))),
        '--digits': `calc(var(--arc) * ${sizes.digits})`,
        '--state': `calc(var(--arc) * ${sizes.state})`,
        '--facts': `calc(var(--arc) * ${sizes.facts})`,
      }}
    >
      {shown.map(({ tile, name }) => (
        <WallStation
          key={tile.key}
          tile={tile}
          name={name}
          nameArc={nameSize({ ...tile, name }, plan.level, cell.width, emsOf)}
          level={plan.level}
          hasLane={
            cell.height / larger - alarmHeight({ ...tile, name }, cell.width / larger, emsOf) >=
            ALARM_LANE_ARC
          }
        />
      ))}
    </ul>
  );
};

export default function Wall() {
  const size = useWindowSize();
  useEffect(() => startSounding(soundNow), []);
  useEffect(watchPatterns, []);
  useEffect(keepAwake, []);
  useEffect(hidePointer, []);
  useTitle(() => t('wall.title'));

  if (trouble.value && !loaded.value) return <TroubleNote trouble={trouble.value} />;
  if (!loaded.value && line.value !== 'down')
    return (
      <main class="preparing">
        <h1 class="unseen">{t('wall.title')}</h1>
        <p role="status">{t('line.loading')}</p>
      </main>
    );
  if (loaded.value && stations.value.length === 0) return <FirstProbe />;

  const { distance_metres, diagonal_inches, nightDimming, nightFrom, nightTo } = settings.value;
  const pixelsPerArc = typePixels(1, {
    distance_metres,
    diagonal_inches,
    width_pixels: size.width,
    height_pixels: size.height,
  });
  const width = (size.width - 2 * MARGIN_PIXELS) / pixelsPerArc;
  const height = (size.height - 2 * MARGIN_PIXELS) / pixelsPerArc;
  const tiles = wallTiles.value;
  const { plan, foot, page } = draw(tiles, { width, height });
  const isCalm = !tiles.some(({ isAlarm }) => isAlarm);
  const clock = formatTime(now.value, { ...reader.value, locale: 'en-GB', hourCycle: 'h23' });
  const dim = nightDimming && isCalm && line.value !== 'down' && isNight(clock, nightFrom, nightTo);
  const [shiftX, shiftY] = wander(now.value);
  const shared = { tiles, plan, width };
  const calmKeys = [...plan.stations.pinned, ...(plan.stations.pages[page] ?? [])];
  return (
    <main
      class="wall"
      data-line={line.value}
      data-dim={dim}
      data-level={plan.level}
      style={{ '--screen-arc': `${pixelsPerArc}px`, '--shift-x': `${shiftX}px`, '--shift-y': `${shiftY}px` }}
    >
      <h1 class="unseen">{t('wall.title')}</h1>
      <div class="wall-tiles">
        {plan.alarms && (
          <Tiles
            {...shared}
            className="wall-alarms"
            keys={plan.alarms.keys}
            grid={plan.alarms}
            height={calmKeys.length > 0 ? plan.alarms.height : height - foot.height}
          />
        )}
        {calmKeys.length > 0 && (
          <Tiles
            {...shared}
            className="wall-stations"
            keys={calmKeys}
            grid={plan.stations}
            height={height - foot.height - (plan.alarms?.height ?? 0)}
          />
        )}
      </div>
      <HandsLine foot={foot} worst={tiles[0]?.isAlarm ? (tiles[0].alarm?.priority ?? null) : null} />
    </main>
  );
}
