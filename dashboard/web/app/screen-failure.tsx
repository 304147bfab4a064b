// Stands where a screen could not be loaded or drawn.

import { useEffect } from 'preact/hooks';
import { ActButton } from '../base/act-button.tsx';
import { t } from '../base/messages.ts';

/** Nobody stands at a wall who could press a button, so it tries again by itself. */
const RETRY_MILLIS = 15_000;

export const ScreenFailure = () => {
  useEffect(() => {
    const timer = setTimeout(() => location.reload(), RETRY_MILLIS);
    return () => clearTimeout(timer);
  }, []);
  return (
    <div class="page">
      <h1>{t('trouble.title')}</h1>
      <p role="alert">{t('trouble.screen')}</p>
      <ActButton text={t('trouble.again')} onClick={() => location.reload()} />
    </div>
  );
};
