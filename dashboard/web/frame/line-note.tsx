// Says that the line to the lab is dead and how old what is shown is; on the wall the foot line says it.

import { line, lastHeardAt, reader } from '../live/lab-state.ts';
import { Mark } from '../look/marks.tsx';
import { formatTime } from './format.ts';
import { t } from './messages.ts';

export const LineNote = () => {
  if (line.value !== 'down') return null;
  return (
    <p class="line-note">
      <Mark name="no-data" />
      <span>
        <strong>{t('line.lost')}</strong>{' '}
        {lastHeardAt.value === null
          ? t('line.never')
          : t('line.old-values', { at: formatTime(lastHeardAt.value, reader.value, true) })}{' '}
        {t('line.what-to-do')}
      </span>
    </p>
  );
};
