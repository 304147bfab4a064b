// Shows that the screen that was asked for is on its way: on a slow line the one before may be gone by then.

import { useEffect, useState } from 'preact/hooks';
import { t } from '../base/messages.ts';
import { screensOnTheWay } from './screens.ts';

/** A screen that comes sooner needs no word. */
const SHOWN_AFTER_MILLIS = 400;

export const LoadingNote = () => {
  const isLoading = screensOnTheWay.value > 0;
  const [isShown, setShown] = useState(false);
  useEffect(() => {
    if (!isLoading) {
      setShown(false);
      return () => undefined;
    }
    const timer = setTimeout(() => setShown(true), SHOWN_AFTER_MILLIS);
    return () => clearTimeout(timer);
  }, [isLoading]);
  return isShown ? (
    <p role="status" class="loading-note">
      {t('screen.loading')}
    </p>
  ) : null;
};
