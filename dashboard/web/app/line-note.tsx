// Shows that the line to the lab is dead and how old the values are; on the wall the foot line does.

import { line, lastReceivedAt, now, reader } from '../live/lab-state.ts';
import { Mark } from '../base/marks.tsx';
import { formatTime } from '../base/format.ts';
import { t } from '../base/messages.ts';
import { instantText } from '../live/instant-text.ts';

/** From then on the time of day alone would be taken for today's. */
const TODAY_MILLIS = 12 * 3_600_000;
const timeText = (at: number): string =>
  now.value - at < TODAY_MILLIS ? formatTime(at, reader.value, true) : instantText(at);

export const LineNote = () => {
  if (line.value !== 'down') return null;
  return (
    <aside class="line-note">
      <Mark name="no-data" />
      <span>
        <strong>{t('line.lost')}</strong>{' '}
        {lastReceivedAt.value === null
          ? t('line.never')
          : t('line.old-values', { at: timeText(lastReceivedAt.value) })}{' '}
        {t('line.what-to-do')}
      </span>
    </aside>
  );
};
