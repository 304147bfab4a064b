// A figure of alarm quality in the reader's words.

import type { AlarmQualityView } from '../../../api/alarm-quality.ts';
import { formatAge, formatNumber, formatPercent, type Reader } from '../../base/format.ts';

export const qualityAmount = (
  { unit }: Pick<AlarmQualityView['figures'][number], 'unit'>,
  value: number | null,
  reader: Reader,
): string => {
  if (value === null) return '–';
  if (unit === 'share') return formatPercent(value, reader);
  if (unit === 'seconds') return formatAge(value, reader);
  return formatNumber(value, Number.isInteger(value) ? 0 : 1, reader);
};
