// The wall: every station at once, read from across the room without touching anything. Sizes follow from where
// people stand; nothing scrolls, nothing moves but the readings.

import { useSignalEffect } from '@preact/signals';
import { useEffect, useState } from 'preact/hooks';
import { formatTime } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { settings } from '../../base/settings.ts';
import { FirstProbe } from '../common/first-probe.tsx';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { line, loaded, now, openAlarms, reader, stations, timeZone, trouble } from '../../live/lab-state.ts';
import { byUrgency, needsHands } from '../../base/face.ts';
import { HandsLine } from './hands-line.tsx';
import { watchPatterns } from '../common/next-pattern.ts';
import { isNight, wander } from './night.ts';
import { typePixels } from '../common/viewing-distance.ts';
import { wallFit } from './wall-fit.ts';
import { NEEDS, wallLayout } from '../common/wall-layout.ts';
import { WallStation } from './wall-station.tsx';
import { armed, silencedUntil, startSounding } from './wall-sound.ts';
import './wall.css';

/** Height of the line at the foot, minutes of arc. */
const HANDS_ARC = 38;
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

const soundNow = () => {
  if (!armed.value || silencedUntil.value > now.value) return null;
  const worst = openAlarms.value
    .filter((alarm) => needsHands(alarm) && !alarm.acknowledged)
    .sort(byUrgency)[0]?.priority;
  return worst === 'urgent' || worst === 'high' || worst === 'medium' ? worst : null;
};

/** Keeps the screen from sleeping where the browser lets a page ask for it. */
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

export default function Wall() {
  const size = useWindowSize();
  useEffect(() => startSounding(soundNow), []);
  useEffect(watchPatterns, []);
  useEffect(keepAwake, []);
  useEffect(hidePointer, []);
  useSignalEffect(() => {
    document.title = t('wall.title');
  });

  if (trouble.value && !loaded.value) return <TroubleNote trouble={trouble.value} />;
  if (loaded.value && stations.value.length === 0) return <FirstProbe />;

  const { distance_metres, diagonal_inches, nightDimming, nightFrom, nightTo } = settings.value;
  const pixelsPerArc = typePixels(1, {
    distance_metres,
    diagonal_inches,
    width_pixels: size.width,
    height_pixels: size.height,
  });
  const hands = Math.min(HANDS_ARC * pixelsPerArc, size.height * 0.16);
  const layout = wallLayout(
    stations.value.length,
    { width_pixels: size.width - 2 * MARGIN_PIXELS, height_pixels: size.height - hands - 2 * MARGIN_PIXELS },
    pixelsPerArc,
    distance_metres,
  );
  const needs = NEEDS[layout.level];
  const type = (arc: number) => arc * pixelsPerArc * layout.scale;
  const fit = wallFit(size.width / layout.columns, {
    name: type(needs.name),
    state: type(needs.state),
    facts: type(needs.facts),
  });
  const worst = openAlarms.value.some((alarm) => needsHands(alarm) && !alarm.acknowledged);
  const clock = formatTime(now.value, {
    ...reader.value,
    locale: 'en-GB',
    hourCycle: 'h23',
    timeZone: timeZone.value,
  });
  const dim = nightDimming && !worst && line.value !== 'down' && isNight(clock, nightFrom, nightTo);
  const [shiftX, shiftY] = wander(now.value);
  return (
    <main
      class="wall"
      data-line={line.value}
      data-dim={dim}
      data-level={layout.level}
      style={{
        '--columns': layout.columns,
        '--rows': layout.rows,
        '--digits': `${type(needs.digits)}px`,
        '--name': `${type(needs.name)}px`,
        '--state': `${type(needs.state)}px`,
        '--facts': `${type(needs.facts)}px`,
        '--hands': `${hands}px`,
        '--shift-x': `${shiftX}px`,
        '--shift-y': `${shiftY}px`,
      }}
    >
      <h1 class="unseen">{t('wall.title')}</h1>
      <ul class="wall-stations">
        {stations.value.map((source) => (
          <WallStation key={source.value.id} source={source} level={layout.level} fit={fit} />
        ))}
      </ul>
      <HandsLine />
    </main>
  );
}
