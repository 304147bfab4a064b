// The one short text that says how a station stands: minutes when it is heading over, the swing when it swings,
// else the word of its face.

import type { StationView } from '../../api/schemas.ts';
import { differenceInUnit, formatLimit, formatNumber } from '../base/format.ts';
import { ruleName, shortRuleName, t, word } from '../base/messages.ts';
import { line, reader } from './lab-state.ts';
import type { Face } from '../base/face.ts';

/** The word of a face alone. */
export const faceText = ({ word: { group, name } }: Face, isShort = false): string => {
  if (group === 'condition') return word(group, name);
  return isShort ? shortRuleName(name) : ruleName(name);
};

export const stateText = (station: StationView, face: Face, live: boolean, isShort = false): string => {
  const plain = faceText(face, isShort);
  if (!live) return plain;
  if (line.value === 'down') return t('wall.was-alarm', { alarm: plain });
  if (face.alarm !== null && !face.alarm.active) return t('wall.was-alarm', { alarm: plain });
  if (station.minutesToCeiling !== null && station.ceiling && station.condition === 'heading-over')
    return t(isShort ? 'wall.minutes-short' : 'wall.minutes-to-ceiling', {
      minutes: Math.max(1, Math.round(station.minutesToCeiling)),
      ceiling: formatLimit(station.ceiling.value, reader.value),
    });
  if (station.condition === 'unsteady' && station.swingCelsius !== null) {
    const swing = differenceInUnit(station.swingCelsius, reader.value.unit);
    return t('wall.swing', { swing: formatNumber(swing, 1, reader.value) });
  }
  return plain;
};
