// The one short text for the status of a station: minutes when it is heading over, the swing when it swings,
// else the word of its face.

import type { StationView } from '../../api/schemas.ts';
import { differenceInUnit, formatLimit, formatNumber } from '../base/format.ts';
import { ruleName, shortRuleName, t, word } from '../base/messages.ts';
import { line, reader } from './lab-state.ts';
import type { Face } from '../base/face.ts';

/** Where the text stands: a list has room for the name of a rule, the wall for its short name only. */
export type TextPlace = 'list' | 'wall' | 'wall-compact';

/** The word of a face alone. */
export const faceText = ({ word: { group, name } }: Face, place: TextPlace = 'list'): string => {
  if (group === 'condition') return word(group, name);
  return place === 'list' ? ruleName(name) : shortRuleName(name);
};

export const stateText = (
  station: StationView,
  face: Face,
  live: boolean,
  place: TextPlace = 'list',
): string => {
  const plain = faceText(face, place);
  if (!live) return plain;
  if (line.value === 'down') return t('wall.was-alarm', { alarm: plain });
  if (face.alarm !== null && !face.alarm.active) return t('wall.was-alarm', { alarm: plain });
  if (station.minutesToCeiling !== null && station.ceiling && station.condition === 'heading-over')
    return t(place === 'wall-compact' ? 'wall.minutes-short' : 'wall.minutes-to-ceiling', {
      minutes: Math.max(1, Math.round(station.minutesToCeiling)),
      ceiling: formatLimit(station.ceiling.value, reader.value),
    });
  if (station.condition === 'unsteady' && station.swingCelsius !== null) {
    const swing = differenceInUnit(station.swingCelsius, reader.value.unit);
    return t('wall.swing', { swing: formatNumber(swing, 1, reader.value) });
  }
  return plain;
};
