// What a probe shows, and how long ago it was seen.

import type { ProbeView } from '../../api/schemas.ts';
import { formatAgo, formatSignificant, formatTemperature } from '../base/format.ts';
import { t } from '../base/messages.ts';
import { now, reader } from './lab-state.ts';

/** A bare sensor whose kind is not described shows what it sends. */
export const probeValue = ({ celsius, electrical }: ProbeView, digits?: number): string => {
  if (celsius !== null) return formatTemperature(celsius, reader.value, digits);
  return electrical === null
    ? '–'
    : `${formatSignificant(electrical.value, reader.value)} ${electrical.unit === 'Ohm' ? 'Ω' : 'mV'}`;
};

export const ageOf = (instant: string | null): string =>
  instant === null ? t('station.never') : formatAgo((now.value - Date.parse(instant)) / 1000, reader.value);
