// Of an alarm that is over: how long it was so, and the reading that went findFarthest, with its time. The readings are in
// the store, so without an answer the message of the alarm says how far it went.

import type { AlarmView, SeriesView } from '../../../../api/schemas.ts';
import { formatAge, formatTemperature } from '../../../base/format.ts';
import { t } from '../../../base/messages.ts';
import { reader } from '../../../live/lab-state.ts';
import { useLoaded } from '../../../live/use-loaded.ts';
import { findFarthest, secondsSo } from './past-course.ts';
import { iso } from '../../../../../wax/iso.ts';

/** Short enough a bucket that the time is right to a minute for half a day. */
const POINTS = 1000;
/** A span of the store ends before its end. */
const AFTER_MILLIS = 1000;

const pathOf = ({ station, extremes, raisedAt, clearedAt }: AlarmView): string | null => {
  if (station === null || clearedAt === null || !extremes?.length) return null;
  const to = iso(Date.parse(clearedAt) + AFTER_MILLIS);
  return `/api/stations/${encodeURIComponent(station)}/readings?from=${raisedAt}&to=${to}&points=${POINTS}`;
};

export const PastExtremes = ({
  alarm,
  at,
}: {
  readonly alarm: AlarmView;
  /** As the other times beside it are written. */
  readonly at: (instant: string) => string;
}) => {
  const { value, trouble } = useLoaded<SeriesView>(pathOf(alarm), { followsLab: false });
  const found = (alarm.extremes ?? []).flatMap((extreme) => {
    const reading = value === null ? null : findFarthest(value, extreme);
    return reading === null ? [] : [{ extreme, ...reading }];
  });
  const isWithout = found.length === 0 && (value !== null || trouble !== null || pathOf(alarm) === null);
  return (
    <p>
      {alarm.clearedAt !== null && t('alarm.lasted', { time: formatAge(secondsSo(alarm), reader.value) })}{' '}
      {isWithout && alarm.message}
      {found
        .map(({ extreme, celsius, at: when }) =>
          t(extreme === 'highest' ? 'alarm.highest' : 'alarm.lowest', {
            value: formatTemperature(celsius, reader.value),
            at: at(when),
          }),
        )
        .join(' ')}
    </p>
  );
};
